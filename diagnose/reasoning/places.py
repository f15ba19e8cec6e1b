"""Where one has to go for a look, a check or a reading, so that nobody walks to and fro."""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Book, Figure, once_a_book

CASTING, BENCH = "casting", "bench"
PLACES = (
    CASTING, BENCH, "moulding floor", "sand plant", "core shop", "furnace", "ladle", "office",
)  # fmt: skip
"""In the order in which they are gone through where nothing else decides."""
BY_AREA = {
    "sand": "sand plant", "core": "core shop", "moulding": "moulding floor", "pattern": BENCH,
    "gating": "moulding floor", "design": "office", "melt": "furnace", "pouring": "ladle",
    "fettling": BENCH,
}  # fmt: skip
"""Where the conditions of an area are verified, where an entry does not say it."""


@once_a_book
def places(book: Book) -> Mapping[str, str]:
    """Return the place of every look, check and measurement.

    One that names none belongs where what it is most a sign of belongs; what is taken on the
    casting itself is done at the bench.
    """
    found = dict.fromkeys(book.looks, CASTING)
    for name, check in book.checks.items():
        found[name] = check.place or _by_signs(book, check.reveals)
    for name, reading in book.measurements.items():
        signs = {**reading.low_speaks_for, **reading.high_speaks_for}
        found[name] = reading.place or (BENCH if reading.bands else _by_signs(book, signs))
    return found


def _by_signs(book: Book, signs: Mapping[str, Figure]) -> str:
    best = max(signs, key=lambda name: book.figure(signs[name]), default="")
    area = book.conditions[best].area if best in book.conditions else ""
    return BY_AREA.get(area, "moulding floor")


def standing(book: Book, reject: Reject) -> str:
    """Return where somebody stands who took down the last thing that was found."""
    where = places(book)
    went = [where[found.id] for found in reject.found if found.id in where]
    return went[-1] if went else CASTING


def no_walk(here: str, there: str) -> bool:
    """Tell whether two places are one as far as walking goes: the casting lies on the bench."""
    at_bench = {CASTING, BENCH}
    return here == there or {here, there} <= at_bench


def place_words(place: str) -> str:
    """Say where that is.

    >>> place_words("casting"), place_words("core shop")
    ('on the casting', 'in the core shop')
    """
    before = {CASTING: "on the", BENCH: "at the", "ladle": "at the", "furnace": "at the"}
    before["moulding floor"] = "on the"
    return f"{before.get(place, 'in the')} {place}"
