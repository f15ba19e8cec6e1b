"""The levels of a factor: moulders, plates, heats, however they are spelt."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable

import numpy as np

from diagnose.batch.reading.data import Codes
from diagnose.batch.reading.grid import Coded
from diagnose.sheets.numbers import is_nothing
from diagnose.sheets.table import Cell, shown

DITTO = {
    '"', "''", "\u201d", "\u201c", "do", "do.", "ditto", "as above", "as before", "dto", "dto.",
    "\u3003", "-\"-", "-''-", ",,",
}  # fmt: skip
"""What is written for "the same as above"."""
NOT_KNOWN = {"?", "??", "unknown", "not known", "n/k", "nk"}
ALIKE = 88.0
"""Per cent of letters in common from which two levels may be one with a slip."""
_ZEROS = re.compile(r"(?<![\d.])0+(?=\d)")
_SIGNS = re.compile(r"[\s._\-/#]+")


def is_ditto(cell: Cell) -> bool:
    """Tell whether a cell says that what stands above holds."""
    return isinstance(cell, str) and cell.strip().casefold() in DITTO


def same_level(text: str) -> str:
    """Return a level as it is compared: without signs, spaces and leading noughts.

    >>> same_level("P-07"), same_level("p 7"), same_level("017"), same_level("J. Hale")
    ('p7', 'p7', '17', 'jhale')
    """
    plain = _SIGNS.sub(" ", text.casefold())
    return "".join(_ZEROS.sub("", re.sub(r"(?<=[a-z])(?=\d)", " ", plain)).split())


class Levels:
    """The levels of one factor, gathered from all sheets.

    ``same``: level as it is written -> the level that it is, as the shop said.
    """

    def __init__(self, same: Iterable[tuple[str, str]] = ()) -> None:
        self._same = {same_level(one): other for one, other in same}
        self._numbers: dict[str, int] = {}
        self._spelt: list[Counter[str]] = []

    def codes(self, column: Coded) -> Codes:
        """Return the level of each row, -1 where there is none."""
        counts = np.bincount(column.codes[column.codes >= 0], minlength=len(column.values))
        of_value = [
            self.code(cell, int(count)) for cell, count in zip(column.values, counts, strict=True)
        ]
        return column.spread(np.array(of_value, dtype=np.int32), -1).astype(np.int32)

    def code(self, cell: Cell, count: int = 1) -> int:
        """Return the number of a level, a new one where it was not met before."""
        text = shown(cell) if not isinstance(cell, str) else " ".join(cell.split())
        plain = text.casefold()
        if (is_nothing(cell) and plain not in ("x", "na")) or plain in NOT_KNOWN:
            return -1
        text = self._same.get(same_level(text), text)
        number = self._numbers.setdefault(same_level(text), len(self._numbers))
        if number == len(self._spelt):
            self._spelt.append(Counter())
        self._spelt[number][text] += count
        return number

    def names(self) -> list[str]:
        """Return the levels by their numbers, each as it is spelt most often."""
        return [
            min(spelt.items(), key=lambda pair: (-pair[1], pair[0]))[0] for spelt in self._spelt
        ]

    def sorting(self, counts: Codes) -> tuple[Codes, tuple[str, ...]]:
        """Return the place of each level once all are sorted, -1 last, and the sorted names.

        ``counts``: how often each stands in rows that are used; one that does not is left out.
        """
        names = self.names()
        used = (number for number in range(len(names)) if counts[number])
        order = sorted(used, key=lambda number: natural(names[number]))
        place = np.full(len(names) + 1, -1, dtype=np.int32)
        place[order] = np.arange(len(order), dtype=np.int32)
        place[-1] = -1
        return place, tuple(names[number] for number in order)

    def slips(self, counts: Codes) -> list[tuple[str, int, str, int]]:
        """Return levels that are rare and like a common one: both, with how often they stand."""
        from rapidfuzz import fuzz, process

        names = self.names()
        plain = {
            names[n]: int(counts[n])
            for n in range(len(names))
            if counts[n] and len(names[n]) >= 5 and not any(c.isdigit() for c in names[n])
        }
        found = []
        for name, count in plain.items():
            common = [other for other, often in plain.items() if often >= 10 * count]
            near = process.extractOne(name, common, scorer=fuzz.ratio, score_cutoff=ALIKE)
            if near:
                found.append((name, count, near[0], plain[near[0]]))
        return found


def natural(text: str) -> tuple[tuple[int, float, str], ...]:
    """Return by what levels are sorted: numbers in them as numbers.

    >>> sorted(["P10", "P9", "12", "9"], key=natural)
    ['9', '12', 'P9', 'P10']
    """
    parts = re.findall(r"\d+(?:\.\d+)?|\D+", text.casefold())
    return tuple((0, float(p), "") if p[0].isdigit() else (1, 0.0, p) for p in parts)
