"""What every room may use: faults with their place, quantities and units, files written whole.

Imported by all rooms; imports none.
Never enters: the book, a reject, the screen.
"""
