"""Small line drawings from a short description: as letters for the terminal, as SVG for notes.

Imports the standard library only; the rule base's checks and the notes import it.
Never enters: the book, the screen.
"""
