"""Checks and measurements; the tree mirrors that of the program."""
