"""Find lengths in a phrase, and the answer of a look whose answers are ranges of a length."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf
from unicodedata import numeric

from diagnose.reject import LOOK
from diagnose.rulebase.book import Book
from diagnose.rulebase.words_claims import SURE, Claim
from diagnose.rulebase.words_index import Index
from diagnose.rulebase.words_text import NEUTRAL_ROOTS, SUBJECT_ROOTS, Word

MM = {"mm": 1.0, "mi": 1.0, "cm": 10.0}  # by the first two letters of a unit; all others are inches
INCH = 25.4
SPOKEN = {"half": 0.5, "quarter": 0.25, "eighth": 0.125, "sixteenth": 0.0625, "an": 1.0}
BLUR = 0.5
"""Millimetres by which a length in inches may miss a limit and yet be about the limit itself."""

_VULGAR = "\u00bc-\u00be\u2150-\u215e"  # quarters, thirds, eighths in one sign
_NUMBER = rf"\d+(?:\.\d+)?(?:\s+\d+\s*/\s*\d+|\s*/\s*\d+|\s*[{_VULGAR}])?|[{_VULGAR}]"
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
_RANGE = re.compile(r"(?:(under|over) )?(\d+(?:\.\d+)?)(?: to (\d+(?:\.\d+)?))? mm")


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
    for piece in re.findall(rf"\d+\s*/\s*\d+|\d+(?:\.\d+)?|[{_VULGAR}]", text):
        above, _, below = piece.partition("/")
        if below:
            total += float(above) / float(below) if float(below) else 0.0
        else:
            total += float(piece) if piece[0].isdecimal() else numeric(piece)
    return total


@dataclass(frozen=True, slots=True)
class Range:
    """An answer that stands for a range of lengths in mm."""

    look: str
    answer: str
    low: float
    high: float

    def meets(self, low: float, high: float) -> bool:
        """Tell whether a length belongs here; the limits do where both are named: 3 to 10 mm."""
        if low == high and self.low > 0.0 and self.high < inf:
            return self.low <= low <= self.high
        if low == high:
            return self.low < low < self.high
        return max(self.low, low) < min(self.high, high)


def ranges_of(book: Book) -> list[Range]:
    """Return the answers of all looks whose every answer says a range: *under 3 mm*."""
    found: list[Range] = []
    for look_id, look in book.looks.items():
        ranges = [_range(look_id, name, answer.say) for name, answer in look.answers.items()]
        if all(ranges):
            found += [one for one in ranges if one]
    return found


def _range(look: str, answer: str, say: str) -> Range | None:
    match = _RANGE.match(say)
    if match is None or bool(match[1]) == bool(match[3]):
        return None
    limit = float(match[2])
    if match[3]:
        return Range(look, answer, limit, float(match[3]))
    under = match[1] == "under"
    return Range(look, answer, 0.0 if under else limit, limit if under else inf)


def answers_for(length: Length, ranges: Sequence[Range]) -> list[Range]:
    """Return the ranges that a length may belong to: one where it is clear, else several.

    >>> three = [Range("size", "small", 0, 3), Range("size", "middle", 3, 10)]
    >>> [r.answer for r in answers_for(Length(0, 4, 3.0, 3.0), three)]
    ['middle']
    """
    low, high = length.low - length.blur, length.high + length.blur
    return [one for one in ranges if one.meets(low, high)]


def size_claims(
    found: Sequence[Length], ranges: Sequence[Range], words: Sequence[Word], index: Index
) -> Iterator[tuple[Claim, ...]]:
    """Yield what lengths claim; several claims together where a length lies on a limit.

    A length is the size of what a look is about where that is the nearest thing named, or where
    the phrase says nothing else.
    """
    for length in found:
        at = frozenset(
            p for p, w in enumerate(words) if length.start <= w.start and w.end <= length.end
        )
        if not at or length.elsewhere or any(words[p].negated for p in at):
            continue
        things = [p for p, w in enumerate(words) if w.root in SUBJECT_ROOTS | NEUTRAL_ROOTS]
        nearest = min(things, key=lambda p: min(abs(p - q) for q in at), default=None)
        alone = len(at) == len(words)
        group = tuple(
            Claim(LOOK, one.look, one.answer, 100.0, SURE, at, at)
            for one in answers_for(length, ranges)
            if alone
            or (nearest is not None and words[nearest].root in index.topics[LOOK, one.look])
        )
        if group:
            yield group
