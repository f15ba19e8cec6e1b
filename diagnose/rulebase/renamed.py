"""What looks, checks and their answers were called once, and are called now.

``knowledge/renamed.yaml`` lists them, so that what was kept under an old name is still read. A name
that the book has is never taken for an old one.
"""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.rulebase.book import Book, once_a_book


def now_called(book: Book, entry: str, answer: str) -> tuple[str, str]:
    """Return the look or check, and its answer, as they are called now, or as they were given."""
    if answer in asked(book).get(entry, ()):
        return entry, answer
    return split(book.renamed.get(f"{entry}={answer}", f"{entry}={answer}"))


def now_asked(book: Book, entry: str) -> str:
    """Return what a look or check is called now, whatever the answer, or what it was given as.

    Where the answers of an old entry went to several, the first that is listed holds.
    """
    if entry in book.looks or entry in book.checks:
        return entry
    new = (new for old, new in book.renamed.items() if split(old)[0] == entry)
    return split(next(new, entry))[0]


def split(name: str) -> tuple[str, str]:
    """Return the two parts of ``entry=answer``; the second is empty where there is no sign.

    >>> split("skin=good"), split("skin")
    (('skin', 'good'), ('skin', ''))
    """
    entry, _, answer = name.partition("=")
    return entry, answer


@once_a_book
def asked(book: Book) -> Mapping[str, tuple[str, ...]]:
    """Return every look and check with the answers that it has."""
    looks = {name: tuple(look.answers) for name, look in book.looks.items()}
    return looks | {name: tuple(check.answers) for name, check in book.checks.items()}
