"""What a heading may stand for: a measurement of the book, or what tells one row from another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from diagnose.basics.quantity import UNITS, fitting_units
from diagnose.rulebase.book import Book
from diagnose.sheets.heading import Heading, folded, ways_to_take

KEYS: Mapping[str, tuple[str, ...]] = {
    "date": (
        "date", "day", "date of test", "test date", "date sampled", "sample date",
        "date of sample", "date taken", "sampling date", "date poured", "pour date", "cast date",
        "date cast", "date and time", "date time", "timestamp", "time stamp", "sampled", "taken",
    ),
    "time": (
        "time", "clock", "clock time", "time of day", "hour", "time of test", "test time",
        "time sampled", "sample time", "time taken", "tap time", "time tapped", "time poured",
        "pour time",
    ),
    "shift": ("shift", "shift no", "turn", "crew"),
    "heat": (
        "heat", "heat no", "heat id", "melt", "melt no", "charge", "charge no", "cast no",
        "tap no", "sample heat",
    ),
    "ladle": ("ladle", "ladle no", "ladle id"),
    "pattern": (
        "pattern", "pattern no", "part", "part no", "job", "job no", "casting", "casting no",
    ),
}  # fmt: skip
"""What tells one row from another, and what it is called; common practice, no source."""
LIMITS = {
    "min", "max", "minimum", "maximum", "target", "limit", "limits", "spec", "lower", "upper",
    "nominal", "range", "sd", "lsl", "usl", "lcl", "ucl", "deviation",
}  # fmt: skip
"""Words by which a heading is known for one of limits and not of readings."""
COMMON = {
    "sand", "iron", "core", "mould", "metal", "casting", "time", "no", "ratio", "content", "test",
    "sample", "pattern", "box", "ladle", "heat", "pour", "mean", "average", "total", "after",
}  # fmt: skip
"""Words that stand in many names and say too little by themselves."""
ALIKE = 85.0
"""Percent of letters in common from which a heading is taken for a name misspelt."""
CLEAR = 6.0
"""Percent by which the next likely name has to fall behind."""
PERHAPS = 78.0
"""Percent from which a name is worth asking about."""
MOST = 8
"""Names that are offered for one heading."""
SHORT = 4
"""Letters below which a name has to be written exactly."""


@dataclass(frozen=True, slots=True)
class Sense:
    """What a heading stands for: surely, or perhaps.

    ``how``: ``named`` or ``alike``. ``strange``: a unit that is unknown, or that does not fit.
    ``limit``: it is a column of limits.
    """

    sure: str = ""
    how: str = ""
    perhaps: tuple[str, ...] = ()
    unit: str = ""
    strange: str = ""
    limit: bool = False


class Names:
    """All names of what a column may hold.

    >>> from diagnose.rulebase.load import load
    >>> names = Names(load())
    >>> names.sense("Moisture (%)").sure, "pouring-temperature" in names.sense("Temp °F").perhaps
    ('sand-moisture', True)
    """

    def __init__(self, book: Book) -> None:
        """Gather the names of a book's measurements and those of the trade for the rest."""
        self.book = book
        self._named: dict[str, set[str]] = {}
        self._bags: dict[tuple[str, ...], set[str]] = {}
        for meaning, name in _all_names(book):
            words = folded(name)
            self._named.setdefault(words, set()).add(meaning)
            self._bags.setdefault(tuple(sorted(words.split())), set()).add(meaning)
        self._senses: dict[str, Sense] = {}

    def unit(self, meaning: str) -> str:
        """Return the unit of what a column holds; empty for what has none."""
        return self.book.measurements[meaning].unit if self.is_measured(meaning) else ""

    def is_measured(self, meaning: str) -> bool:
        """Tell whether a column of this kind holds readings of a measurement."""
        return meaning in self.book.measurements

    def called(self, meaning: str) -> str:
        """Return what a column holds, in words."""
        return self.book.measurements[meaning].name if self.is_measured(meaning) else meaning

    def sense(self, text: str) -> Sense:
        """Return what a heading stands for."""
        if text not in self._senses:
            self._senses[text] = self._sense(text)
        return self._senses[text]

    def _sense(self, text: str) -> Sense:
        ways = list(ways_to_take(text))
        unfit: Sense | None = None
        for way in ways:
            for found in self._exact(way):
                fitting = tuple(sorted(m for m in found if self._fits(m, way.unit)))
                if len(fitting) == 1 and not way.strange:
                    return Sense(fitting[0], "named", unit=way.unit)
                if fitting and not way.strange:
                    return Sense(perhaps=fitting, unit=way.unit)
                with_units = tuple(sorted(meaning for meaning in found if self.unit(meaning)))
                if with_units and not unfit:
                    unfit = Sense(perhaps=with_units, strange=way.strange or way.unit)
        if any(LIMITS & set(way.words.split()) for way in ways):
            return Sense(limit=True)
        return unfit or self._near(max(ways, key=lambda way: bool(way.unit or way.strange)))

    def _exact(self, way: Heading) -> Iterator[set[str]]:
        """Yield what has these words for its name; then also in another order, or numbered."""
        words = way.words.split()
        unnumbered = words[:-1] if len(words) > 1 and words[-1] in "1 2 3 4 5 6 7 8 9" else words
        for found in (
            self._named.get(way.words),
            self._bags.get(tuple(sorted(words))),
            self._named.get(" ".join(unnumbered)),
        ):
            if found:
                yield found

    def _fits(self, meaning: str, unit: str) -> bool:
        own = self.unit(meaning)
        return not unit or (bool(own) and UNITS[own].kind == UNITS[unit].kind)

    def _near(self, way: Heading) -> Sense:
        """Return what a heading may stand for whose words are no name."""
        from rapidfuzz import fuzz

        words = set(way.words.split())
        scores: dict[str, float] = {}
        for name, found in self._named.items():
            if min(len(name), len(way.words)) < SHORT:
                continue
            score = fuzz.ratio(way.words, name)
            within = _part_of(words, set(name.split()))
            if score < (PERHAPS if not within else 0.0):
                continue
            for meaning in found - KEYS.keys():
                if self._fits(meaning, way.unit):
                    scores[meaning] = max(scores.get(meaning, 0.0), score)
        ranked = sorted(scores, key=lambda meaning: (-scores[meaning], meaning))
        if not ranked:
            return Sense()
        next_best = scores[ranked[1]] if len(ranked) > 1 else 0.0
        if scores[ranked[0]] >= max(ALIKE, next_best + CLEAR) and not way.strange:
            return Sense(ranked[0], "alike", unit=way.unit)
        return Sense(perhaps=tuple(ranked[:MOST]), unit=way.unit, strange=way.strange)


def _part_of(one: set[str], other: set[str]) -> bool:
    """Tell whether one name is part of the other, by words that say something."""
    smaller, greater = sorted((one, other), key=len)
    telling = {word for word in smaller - COMMON if len(word) >= SHORT}
    return bool(telling) and smaller <= greater


def _all_names(book: Book) -> Iterator[tuple[str, str]]:
    for meaning, measurement in book.measurements.items():
        for name in (meaning.replace("-", " "), measurement.name, *measurement.also):
            yield meaning, name
    for meaning, called in KEYS.items():
        yield from ((meaning, name) for name in called)


def other_units(unit: str) -> list[str]:
    """Return the units that a column may be in, its own first."""
    return [unit, *(other for other in fitting_units(unit) if other != unit)]
