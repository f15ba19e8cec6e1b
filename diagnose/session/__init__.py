"""One reject being worked: answers, undo, the file it is kept in, the shelf, the shared library.

Imports reasoning, words, windows and below; notes, screens and plain import it.
Never enters: layout, keys, printing.
"""
