"""The statistics of a scrap batch: arrays in, small records out; scipy and statsmodels do the work.

Imports the results of the batch and numpy; the rest of the batch imports it.
Never enters: files, sheets, the book, drawing; scipy and statsmodels stay inside functions.
"""
