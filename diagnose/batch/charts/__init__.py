"""The charts of a scrap batch, in plain characters and as SVG.

Imports the batch's result and figures; the pack, the screens and the plain lines import it.
Never enters: reading, statistics, files, colour.
"""
