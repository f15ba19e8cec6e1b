"""The session line by line, for printers, pipes and screen readers.

Imports notes, sheets, session; only the commands import it.
Never enters: Textual, sums, rules.
"""
