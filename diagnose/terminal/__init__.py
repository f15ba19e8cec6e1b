"""The session in a terminal: on the whole screen, or line by line.

Imports notes, sheets, the batch, the session and below; only the commands import it.
Never enters: sums, rules, reasoning.
"""
