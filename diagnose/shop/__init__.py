"""Foundry arithmetic: sand, mould, iron, pouring, gating and feeding, each with its source.

Imports the basics only; the rule base, the reasoning and the commands import it.
Never enters: YAML, windows of the shop (``windows``), the screen.
"""
