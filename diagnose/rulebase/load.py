"""Load the rule base: the one call that most of the program needs."""

from __future__ import annotations

from pathlib import Path

from diagnose.rulebase.book import Book
from diagnose.rulebase.cache import load_compiled


def load(folder: Path | str | None = None) -> Book:
    """Return the book of a folder, from the cache where the files have not changed since.

    ``folder``: see ``rulebase.folder.knowledge_folder``. Raises Fault with everything that keeps
    the book from being worked with, each with file, line and column.
    """
    return load_compiled(folder)[0]
