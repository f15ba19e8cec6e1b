"""Train the reader of words again: ``python -m diagnose.words.training``.

Needs the ``training`` extra; nothing here is imported at run time.
"""
