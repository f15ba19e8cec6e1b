"""The session on the terminal's whole screen; no reasoning in here.

Imports notes, sheets, session and below; only the commands import it.
Never enters: sums, rules, what line by line also needs.
"""
