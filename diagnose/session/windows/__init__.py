"""The shop's own windows: found, read, and laid over those of the book.

Imports the reasoning and below; the session and the commands import it.
Never enters: the sums of the foundry (``shop``), the screen.
"""
