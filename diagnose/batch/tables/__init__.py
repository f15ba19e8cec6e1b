"""The table engine: lines counted into cells by expressions that run on several engines.

Imports nothing of the program but its faults; the reading of the batch imports it.
Never enters: file formats of the shop, words, statistics.
"""
