"""One reject as data: what it is, what was found and heard, in order; frozen.

Imports the basics; everything above may import it.
Never enters: the book, probabilities of causes, files.
"""
