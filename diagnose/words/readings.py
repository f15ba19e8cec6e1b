"""What a shop calls the things that it measures, and the readings in what people say."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from diagnose.basics.errors import Fault
from diagnose.basics.shorthand import read_jotted
from diagnose.rulebase.book import Book
from diagnose.rulebase.measured import measurement_names, name_folded
from diagnose.words.calibration import Questions
from diagnose.words.classes import MEASURED_AS
from diagnose.words.heard import Amount
from diagnose.words.spans import Span

if TYPE_CHECKING:
    from diagnose.words.model import Model

TAKEN, NEAR = 0.45, 0.15
"""Probability from which a name is taken for a measurement, and from which it may be one."""
AHEAD = 1.6
"""How many times likelier than the next the first must be, for there to be no doubt."""
SPOKEN = 0.8
"""Probability from which a reading is taken out of a phrase."""

_AMOUNT = re.compile(
    r"(?P<value>(?:\d+\s+)?\d+\s*/\s*\d+|\d+(?:[.,]\d+)?)\s*"
    r"(?P<unit>%|\u00b0\s*[CF]?|deg(?:rees)?\s*[CF]?|[CF]\b|kN/m2|kPa|MPa|N/mm2|N/cm2|psi|ppm|mm\b"
    r"|min(?:ute)?s?\b|secs?\b|hours?\b|hrs?\b|AFS\b|GFN\b|HB\b|BHN\b|B\b)?",
)


@dataclass(frozen=True, slots=True)
class Named:
    """What a name may mean: measurements by how likely they are meant, the likeliest first."""

    name: str
    candidates: tuple[tuple[str, float], ...]

    @property
    def sure(self) -> str:
        """The measurement that is meant without much doubt, or an empty text."""
        if not self.candidates or self.candidates[0][1] < TAKEN:
            return ""
        rest = self.candidates[1][1] if len(self.candidates) > 1 else 0.0
        return self.candidates[0][0] if self.candidates[0][1] >= AHEAD * rest else ""

    @property
    def likely(self) -> list[str]:
        """The measurements that it may be, the likeliest first."""
        return [entry for entry, chance in self.candidates if chance >= NEAR]


class Gauges:
    """The names of a book's measurements, as shops call them."""

    def __init__(self, book: Book, model: Model) -> None:
        self.book = book
        self.model = model
        names = [name.removeprefix(MEASURED_AS) for name in model.classes]
        own = [n.startswith(MEASURED_AS) for n in model.classes]
        self._columns = np.array(
            [k for k, name in enumerate(names) if own[k] and name in book.measurements]
        )
        self._ids = [names[k] for k in self._columns]
        self._questions = Questions([MEASURED_AS + name for name in self._ids])
        self._exact = measurement_names(book)

    def named(self, name: str, text: str = "", asked: frozenset[str] | None = None) -> Named:
        """Return which measurements a name may mean, given what was read for it.

        A measurement that cannot have such a reading is not meant. ``asked``: those that the job
        has; others count only where the name is theirs by the letter.
        """
        plain = name_folded(name)
        if (exact := self._exact.get(plain)) is not None:
            return Named(name, ((exact, 1.0),))
        (read,) = self.model.read([plain])
        if not read.parts:
            return Named(name, ())
        table, _ = self._questions.features(read.logits[:1, self._columns].astype(np.float64))
        chances = self.model.curve("measured")(table)
        found = [
            (entry, float(chance))
            for entry, chance in zip(self._ids, chances, strict=True)
            if chance > 0.02
            and (asked is None or entry in asked)
            and (not text or self.can_be(entry, text, plain))
        ]
        found.sort(key=lambda pair: -pair[1])
        whole = sum(chance for _, chance in found)
        share = max(1.0, whole)
        return Named(name, tuple((entry, chance / share) for entry, chance in found[:5]))

    def can_be(self, entry: str, text: str, name: str = "") -> bool:
        """Tell whether a text can be a reading of a measurement."""
        measurement = self.book.measurements[entry]
        least, most = measurement.possible
        try:
            values = read_jotted(text, measurement.unit, name, measurement.possible)
        except Fault:
            return False
        return all(least <= value <= most for value in values)

    def spoken(self, text: str, clauses: Iterator[Span]) -> Iterator[Amount]:
        """Yield the readings that a phrase gives: a number beside the name of a measurement."""
        for start, end in clauses:
            clause = text[start:end]
            matches = [m for m in _AMOUNT.finditer(clause) if m["unit"] or m.end() == len(clause)]
            if len(matches) != 1:
                continue
            match = matches[0]
            name = " ".join((clause[: match.start()] + " " + clause[match.end() :]).split())
            if len(re.findall(r"[A-Za-z]+", name)) == 0:
                continue
            named = self.named(name, match[0].strip())
            if named.sure and named.candidates[0][1] >= SPOKEN:
                chance = named.candidates[0][1]
                yield Amount(named.sure, match[0].strip(), chance, clause.strip())
