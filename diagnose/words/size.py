"""Lengths in a phrase, and the answer of a look whose answers are ranges of a length."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import inf
from unicodedata import numeric

from diagnose.rulebase.book import Book

MM = {"mm": 1.0, "mi": 1.0, "cm": 10.0}  # by the first two letters of a unit; all others are inches
INCH = 25.4
SPOKEN = {"half": 0.5, "quarter": 0.25, "eighth": 0.125, "sixteenth": 0.0625, "an": 1.0}
BLUR = 0.5
"""Millimetres by which a length in inches may miss a limit and yet be about the limit itself."""

_VULGAR = "\u00bc-\u00be\u2150-\u215e"  # quarters, thirds, eighths in one sign
_NUMBER = rf"(?:\d+(?:\.\d+)?|\.\d+)(?:\s+\d+\s*/\s*\d+|\s*/\s*\d+|\s*[{_VULGAR}])?|[{_VULGAR}]"
_LENGTH = re.compile(
    rf"(?P<limit>(?:under|below|less than|up to|over|above|more than|bigger than)\s+)?"
    rf"(?P<low>{_NUMBER})(?:\s*(?:-|\u2013|to)\s*(?P<high>{_NUMBER}))?\s*"
    r"(?P<unit>mm\b|cm\b|in\b|inch(?:es)?\b|millimet(?:re|er)s?\b|[\"\u201d\u2033])"
    r"|\b(?P<spoken>half|quarter|an)(?:\s+(?:of\s+)?an)?\s+inch\b"
    r"|\b(?P<part>eighth|sixteenth)(?:\s+of\s+an)?\s+inch\b",
    re.IGNORECASE,
)
_ACROSS = re.compile(r"\s*(?:across|wide|dia(?:m|meter)?)\b", re.IGNORECASE)
_ELSEWHERE = re.compile(
    r"\s*(?:of\s+)?(?:deep|down|below|under|beneath|inside|in from|from|away|off|thick|long|high"
    r"|tall|wall|section|plate|flange|above|back|into|out)\b",
    re.IGNORECASE,
)
_WALL_BEFORE = re.compile(
    r"(?:wall|section|flange|plate|rib|thickness|web)s?\s*(?:is|of|about)?\s*$", re.IGNORECASE
)
_UPPER = frozenset({"under", "below", "less", "up"})

Ranges = Mapping[str, Mapping[str, tuple[float, float]]]
"""Look -> answer -> the lengths in mm for which it stands."""


@dataclass(frozen=True, slots=True)
class Length:
    """A length, or a range of lengths, in mm, and where it stands in the phrase.

    ``blur``: how far off it may be; ``elsewhere``: it is a depth, a distance or the thickness of a
    wall, and the word that says so is part of it.
    """

    start: int
    end: int
    low: float
    high: float
    blur: float = 0.0
    elsewhere: bool = False


def lengths(phrase: str) -> Iterator[Length]:
    """Yield the lengths of a phrase.

    >>> found = lengths('holes 2-3 mm, 1/2" wide, wall 14 mm thick')
    >>> [(one.low, one.high, one.elsewhere) for one in found]
    [(2.0, 3.0, False), (12.7, 12.7, False), (14.0, 14.0, True)]
    >>> [(one.low, one.high) for one in lengths("under 3 mm")]
    [(0.0, 3.0)]
    """
    for match in _LENGTH.finditer(phrase):
        unit = MM.get((match["unit"] or "").lower()[:2], INCH)
        if spoken := match["spoken"] or match["part"]:
            low = high = SPOKEN[spoken.lower()]
        else:
            low = number(match["low"])
            high = number(match["high"]) if match["high"] else low
        limit = (match["limit"] or "").lower()
        if limit:
            low, high = (0.0, low) if limit.split()[0] in _UPPER else (high, inf)
        beyond = _ELSEWHERE.match(phrase, match.end())
        wall = _WALL_BEFORE.search(phrase[: match.start()])
        end = (beyond or _ACROSS.match(phrase, match.end()) or match).end()
        blur = BLUR if unit == INCH else 0.0
        elsewhere = bool(beyond or wall)
        yield Length(match.start(), end, low * unit, high * unit, blur, elsewhere)


def number(text: str) -> float:
    r"""Return a number with or without a fraction; a division by nothing counts as nothing.

    >>> number("1 1/2"), number("3/16"), number("2\u00bd")
    (1.5, 0.1875, 2.5)
    """
    total = 0.0
    for piece in re.findall(rf"\d+\s*/\s*\d+|\d*\.\d+|\d+|[{_VULGAR}]", text):
        above, _, below = piece.partition("/")
        if below:
            total += float(above) / float(below) if float(below) else 0.0
        else:
            total += float(piece) if piece[-1].isdecimal() else numeric(piece)
    return total


def ranges_of(book: Book) -> Ranges:
    """Return the looks whose answers are ranges of a length."""
    found: dict[str, dict[str, tuple[float, float]]] = {}
    for name, look in book.looks.items():
        for answer, entry in look.answers.items():
            if entry.between_mm:
                low, high = entry.between_mm
                found.setdefault(name, {})[answer] = (
                    0.0 if low is None else low, inf if high is None else high,
                )  # fmt: skip
    return found


def answers_for(length: Length, ranges: Mapping[str, tuple[float, float]]) -> list[str]:
    """Return the answers that a length may belong to: one where it is clear, else several.

    >>> three = {"small": (0.0, 3.0), "middle": (3.0, 10.0)}
    >>> answers_for(Length(0, 4, 3.0, 3.0), three)
    ['middle']
    """
    low, high = length.low - length.blur, length.high + length.blur
    return [answer for answer, limits in ranges.items() if _meets(limits, low, high)]


def _meets(limits: tuple[float, float], low: float, high: float) -> bool:
    """Tell whether a length belongs here; the limits do where both are named: 3 to 10 mm."""
    least, most = limits
    if low == high and least > 0.0 and most < inf:
        return least <= low <= most
    if low == high:
        return least < low < most
    return max(least, low) < min(most, high)
