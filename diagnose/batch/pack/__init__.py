"""The pack of a scrap batch: one page to read and print, its PDF, and its tables.

Imports the batch's words and charts; the commands and the screens import it.
Never enters: reading, statistics, keys.
"""
