"""The reasoning: arrays in, arrays out. It knows no YAML and no screen.

Imports numpy only; the reasoning imports it.
Never enters: names of the foundry, YAML, the screen.
"""
