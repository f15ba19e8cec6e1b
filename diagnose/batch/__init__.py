"""The scrap batch: what a sheet of castings poured and scrapped shows, and what it comes from.

Imports the sheets, notes, the session and below; screens, plain and commands import it.
Never enters: keys, printing; the batch's libraries are imported where a function needs them.
"""
