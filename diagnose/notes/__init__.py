"""A reject as text, data and the corrective-action note; faults as pages with pictures.

Imports the session and what lies below; the screens and commands import it.
Never enters: keys, widgets, reading of files.
"""
