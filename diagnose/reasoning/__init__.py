"""The book made ready for one job, and from findings to causes, questions and reasons.

Imports the rule base, the engine and rejects; the session imports it.
Never enters: words as people type them, files, the screen.
"""
