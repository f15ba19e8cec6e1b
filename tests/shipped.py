"""The rule base that comes with the program, made ready once for all tests of a worker.

None of it is ever to be changed. The book comes out of the cache that all workers share, so that
the first worker to ask reads the YAML and the others do not.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Book
from diagnose.rulebase.cache import load_compiled
from diagnose.session.library import Library
from diagnose.session.session import Session

KNOWLEDGE = Path(__file__).resolve().parent.parent / "knowledge"


@cache
def compiled() -> tuple[Book, str]:
    """Return the book and its key in the cache."""
    return load_compiled(KNOWLEDGE)


def book() -> Book:
    """Return the book."""
    return compiled()[0]


def one_library_a_book() -> Callable[[Book, str], Library]:
    """Return a maker of libraries that makes one for each key and keeps it.

    Within a run of the program all sessions share one library; so do all sessions of a worker, of
    whichever test. A key stands for the files of a book and for the program that read them.
    """
    made: dict[str, Library] = {}

    def library(book: Book, key: str = "") -> Library:
        if not key:
            return Library(book)
        if key not in made:
            made[key] = Library(book, key)
        return made[key]

    return library


@cache
def first() -> Session:
    """Return a session on a reject of which nothing is known."""
    from diagnose.session import session as sessions

    return Session(sessions.Library(*compiled()), Reject())
