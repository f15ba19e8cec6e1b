"""The sheets of a scrap batch: files, headings, dates, rows and fault words, as numbers.

Imports the sheets and below, and the tables; the rest of the batch and the commands import it.
Never enters: statistics, causes, the screen; a guess that nobody is told of.
"""
