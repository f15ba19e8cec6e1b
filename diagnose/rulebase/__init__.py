"""The rule base: its YAML, its schema, its checks, its cache.

Imports rejects, sums, drawings and basics; all that reasons, hears or shows imports it.
Never enters: probabilities of one reject, the screen.
"""
