"""From the counts of a scrap sheet to causes: signatures, groups of rejects that share one shop.

Imports the session, the notes and below, and what was made of a batch; the batch's commands use it.
Never enters: files, tables, keys, printing; scipy is imported where a function needs it.
"""
