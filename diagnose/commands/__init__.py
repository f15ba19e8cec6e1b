"""The commands: parse what was typed, call, print. One module a command; ``main`` lists them.

Imports every room; only ``__main__`` imports it.
Never enters: reasoning, layout, anything that another room could want.
"""
