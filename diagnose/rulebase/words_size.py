"""Find lengths in a phrase, and the answer of a look whose answers are ranges of a length."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from diagnose.rulebase.book import Book

MM = {"mm": 1.0, "cm": 10.0, "in": 25.4}
FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
SPOKEN = {"half": 0.5, "quarter": 0.25, "eighth": 0.125, "sixteenth": 0.0625, "an": 1.0}
BLUR = 0.5
"""Millimetres by which a length in inches may miss a limit and yet be about the limit itself."""

_NUMBER = r"\d+(?:\.\d+)?(?:\s+\d+/\d+|\s*/\s*\d+)?"
_LENGTH = re.compile(
    rf"(?P<low>{_NUMBER})(?:\s*(?:-|\u2013|to)\s*(?P<high>{_NUMBER}))?\s*"
    r"(?P<unit>mm|cm|in\b|inch(?:es)?|millimet(?:re|er)s?|\"|”|″)"
    r"|\b(?P<spoken>half|quarter|an)(?:\s+(?:of\s+)?an)?\s+inch\b"
    r"|\b(?P<part>eighth|sixteenth)(?:\s+of\s+an)?\s+inch\b"
)
_ACROSS = re.compile(r"\s*(?:across|wide|dia\b|diam|diameter|round|size|in size|bore|hole)")
_ELSEWHERE = re.compile(
    r"\s*(?:of\s+)?(?:deep|down|below|under|beneath|inside|in from|from|away|off|thick|long|high"
    r"|tall|wall|section|plate|flange|above|back|into)"
)
_WALL_BEFORE = re.compile(
    r"(?:wall|section|flange|plate|rib|thickness|web)s?\s*(?:is|of|about)?\s*$"
)
_UNDER = re.compile(r"under (\d+(?:\.\d+)?) mm")
_BETWEEN = re.compile(r"(\d+(?:\.\d+)?) to (\d+(?:\.\d+)?) mm")
_OVER = re.compile(r"over (\d+(?:\.\d+)?) mm")


@dataclass(frozen=True, slots=True)
class Length:
    """A length, or a range of lengths, in mm, and where it stands in the phrase.

    ``blur``: how far off it may be. ``across``: the phrase itself says that it goes across;
    ``elsewhere``: it is a depth, a distance or the thickness of a wall.
    """

    start: int
    end: int
    low: float
    high: float
    blur: float
    across: bool
    elsewhere: bool = False


def lengths(phrase: str) -> Iterator[Length]:
    """Yield the lengths of a phrase.

    >>> found = lengths('holes 2-3 mm, 1/2" wide, wall 14 mm thick')
    >>> [(one.low, one.high, one.elsewhere) for one in found]
    [(2.0, 3.0, False), (12.7, 12.7, False), (14.0, 14.0, True)]
    """
    text = phrase.lower() if len(phrase.lower()) == len(phrase) else phrase
    for short, long in FRACTIONS.items():
        text = text.replace(short, long) if short in text else text
    if len(text) != len(phrase):
        text = phrase
    for match in _LENGTH.finditer(text):
        beyond = _ELSEWHERE.match(text, match.end())
        elsewhere = bool(beyond or _WALL_BEFORE.search(text[: match.start()]))
        spoken = match["spoken"] or match["part"]
        unit = MM.get((match["unit"] or "in")[:2], MM["in"])
        unit = MM["mm"] if (match["unit"] or "").startswith("mill") else unit
        low = SPOKEN[spoken] if spoken else number(match["low"])
        high = number(match["high"]) if match["high"] else low
        across = _ACROSS.match(text, match.end())
        end = (across or beyond or match).end()
        blur = BLUR if unit == MM["in"] else 0.0
        yield Length(match.start(), end, low * unit, high * unit, blur, bool(across), elsewhere)


def number(text: str) -> float:
    """Return a number with or without a fraction; a division by nothing counts as nothing.

    >>> number("1 1/2"), number("3/16")
    (1.5, 0.1875)
    """
    whole, _, fraction = text.strip().rpartition(" ")
    above, _, below = (fraction or text).partition("/")
    share = float(above) / float(below) if below and float(below) else float(above) * (not below)
    return (float(whole) if whole.strip() else 0.0) + share


@dataclass(frozen=True, slots=True)
class Range:
    """An answer that stands for a range of lengths in mm."""

    look: str
    answer: str
    low: float
    high: float


def ranges_of(book: Book) -> list[Range]:
    """Return the answers of all looks whose every answer says a range: *under 3 mm*."""
    found: list[Range] = []
    for look_id, look in book.looks.items():
        ranges = [_range(look_id, name, answer.say) for name, answer in look.answers.items()]
        found += [] if None in ranges else [one for one in ranges if one is not None]
    return found


def _range(look: str, answer: str, say: str) -> Range | None:
    if match := _BETWEEN.match(say):
        return Range(look, answer, float(match[1]), float(match[2]))
    if match := _UNDER.match(say):
        return Range(look, answer, 0.0, float(match[1]))
    if match := _OVER.match(say):
        return Range(look, answer, float(match[1]), float("inf"))
    return None


def answers_for(length: Length, ranges: Sequence[Range]) -> list[Range]:
    """Return the ranges that a length may belong to: one where it is clear, else several.

    A limit itself belongs to the range that names it as its end on both sides: 3 to 10 mm.

    >>> three = [Range("size", "small", 0, 3), Range("size", "middle", 3, 10)]
    >>> [r.answer for r in answers_for(Length(0, 4, 3.0, 3.0, 0.0, True), three)]
    ['middle']
    """

    def holds(one: Range, size: float) -> bool:
        if one.low > 0.0 and one.high < float("inf"):
            return one.low <= size <= one.high
        return one.low < size < one.high

    sizes = (length.low - length.blur, length.high + length.blur, length.low, length.high)
    return [one for one in ranges if any(holds(one, size) for size in sizes)]
