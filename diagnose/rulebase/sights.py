"""Which looks and readings ask after one and the same fact, so that their answers count once."""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.rulebase.book import Book, once_a_book


@once_a_book
def sights(book: Book) -> Mapping[str, frozenset[str]]:
    """Return what is seen of the casting -> all that tells the same as it, itself among them.

    A tie holds both ways and is handed on: what is tied to a tied look is tied too.
    """
    groups = {name: {name} for name in book.seen()}
    for name in groups:
        for other in (book.looks.get(name) or book.measurements[name]).same_sight:
            if other in groups and groups[other] is not groups[name]:
                groups[name] |= groups[other]
                for member in groups[other]:
                    groups[member] = groups[name]
    return {name: frozenset(group) for name, group in groups.items()}
