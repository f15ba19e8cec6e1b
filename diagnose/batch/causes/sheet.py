"""A sheet's cells sorted by its factors, and by those that are worked out from its columns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from diagnose.batch.causes.tables import Cells
from diagnose.engine.cliquetree import Floats, Ints

WITHIN_PATTERN = ("plate", "impression")
"""Factors whose numbers mean something within one pattern only."""
FIRST, BETWEEN, LAST = "first", "between", "last"
WET_MM = 1.0
"""Rain from which a day, and the day after it, are wet."""
Where = tuple[tuple[str, str], ...]
"""Factor and level that set a group apart."""


class Data(Protocol):
    """What was read from the sheets: see ``diagnose.batch.reading.data.BatchData``."""

    @property
    def faults(self) -> tuple[str, ...]:
        """Ids of defects of the book, or ``unknown``."""

    @property
    def factors(self) -> tuple[str, ...]:
        """Factors that the sheets have."""

    @property
    def levels(self) -> Mapping[str, tuple[str, ...]]:
        """What the codes of each factor mean."""

    @property
    def cells(self) -> Any:
        """Scrap and castings poured, by the factors that both know."""

    @property
    def scrap(self) -> Any:
        """Scrap by all its factors."""

    @property
    def lines(self) -> Any:
        """The rows of the scrap sheets."""

    @property
    def words(self) -> Sequence[Any]:
        """The fault words."""

    @property
    def remarks(self) -> Sequence[Any]:
        """The remarks, with what was heard in them."""

    @property
    def readings(self) -> Any:
        """Readings of the shop, or None."""


@dataclass(frozen=True, slots=True)
class Factor:
    """One factor: the code of each cell, -1 where not known, and what the codes mean."""

    name: str
    codes: Ints
    names: tuple[str, ...]


class Sheet:
    """The cells of a batch with their factors, each worked out once.

    ``cells``: castings poured with the scrap among them, or None; ``scrap``: all scrap; ``lines``:
    the rows.
    """

    def __init__(self, data: Data) -> None:
        self.data = data
        self.cells: Cells | None = data.cells if data.cells.poured is not None else None
        self.scrap: Cells = data.scrap
        self.lines: Cells = Lines(data.lines)
        self._wet = _wet_days(data)
        self._known: dict[tuple[int, str], Factor | None] = {}

    def factors(self, cells: Cells) -> Iterator[Factor]:
        """Yield every factor that these cells know."""
        for name in (*self.data.factors, "weather"):
            factor = self.factor(cells, name)
            if factor is not None:
                yield factor

    def factor(self, cells: Cells, name: str) -> Factor | None:
        """Return one factor of these cells; None where they do not know it."""
        key = (id(cells), name)
        if key not in self._known:
            self._known[key] = self._worked(cells, name)
        return self._known[key]

    def _worked(self, cells: Cells, name: str) -> Factor | None:
        if name == "weather":
            if not self._wet:
                return None
            wet = np.isin(cells.day, list(self._wet)).astype(np.intp)
            return Factor(name, np.where(cells.day > 0, wet, -1), ("dry", "after rain"))
        if name not in cells.factors:
            return None
        codes, levels = cells.code(name).astype(np.intp), tuple(self.data.levels[name])
        if name in WITHIN_PATTERN and "pattern" in cells.factors:
            pattern = cells.code("pattern").astype(np.intp)
            both = np.where((codes >= 0) & (pattern >= 0), pattern * len(levels) + codes, -1)
            patterns = self.data.levels["pattern"]
            return Factor(name, both, tuple(f"{p} {one}" for p in patterns for one in levels))
        if name == "ladle order":
            places = thirds(codes, levels, _runs(cells, ("heat", "ladle", "day"), ()))
            return Factor(name, places, (FIRST, BETWEEN, LAST))
        if name == "hour":
            places = thirds(codes, levels, _runs(cells, ("day", "shift"), ("shift",)))
            return Factor("time in shift", places, (FIRST, BETWEEN, LAST))
        return Factor(name, codes, levels)

    def mask(self, cells: Cells, where: Where, *, elsewhere: bool) -> NDArray[np.bool_]:
        """Return which cells lie at a level, or elsewhere, as far as they know the factor."""
        mask = np.ones(len(cells.day), dtype=np.bool_)
        for name, level in where:
            factor = self.factor(cells, name)
            if factor is not None and level in factor.names:
                at = factor.codes == factor.names.index(level)
                mask &= ~at if elsewhere else at
        return mask


class Lines:
    """The rows of a sheet, seen as cells."""

    def __init__(self, lines: Any) -> None:
        self._lines = lines
        self.factors: tuple[str, ...] = lines.factors
        self.day: NDArray[np.int32] = lines.day
        self.bad: Floats = lines.castings[:, np.newaxis]
        self.poured: Floats | None = None

    def code(self, factor: str) -> NDArray[np.int32]:
        """Return the level of one factor in each row."""
        return np.asarray(self._lines.codes[:, self.factors.index(factor)])


def _runs(cells: Cells, factors: Sequence[str], of_scrap: Sequence[str]) -> Ints:
    """Return a number that cells share where they agree in all these factors.

    Scrap alone does not show where a ladle or a shift began and ended; there only the factors
    ``of_scrap`` count, so that a place is first or last by what is usual.
    """
    factors = of_scrap if cells.poured is None else factors
    known = [
        cells.day if name == "day" else cells.code(name)
        for name in factors
        if name == "day" or name in cells.factors
    ]
    if not known:
        return np.zeros(len(cells.day), dtype=np.intp)
    return np.asarray(np.unique(np.stack(known), axis=1, return_inverse=True)[1].reshape(-1))


def thirds(codes: Ints, levels: Sequence[str], runs: Ints) -> Ints:
    """Return 0 for the first place of each run, 2 for its last third, 1 for what lies between.

    Runs of fewer than three places say nothing (-1), and neither do places that are no numbers.

    >>> thirds(np.array([0, 1, 2, 3, 0]), ("1", "2", "3", "4"), np.array([0, 0, 0, 0, 1])).tolist()
    [0, 1, 1, 2, -1]
    """
    values = np.array([*(_number(level) for level in levels), np.nan])[codes]
    known = ~np.isnan(values)
    count = int(runs.max()) + 1 if len(runs) else 0
    low, high = np.full(count, np.inf), np.full(count, -np.inf)
    np.minimum.at(low, runs[known], values[known])
    np.maximum.at(high, runs[known], values[known])
    first, last = low[runs], high[runs]
    long_enough = known & (last - first >= 2.0)
    with np.errstate(invalid="ignore"):
        late = values > first + 2.0 / 3.0 * (last - first)
    places = np.where(values == first, 0, np.where(late, 2, 1))
    return np.asarray(np.where(long_enough, places, -1), dtype=np.intp)


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return float("nan")


def _wet_days(data: Data) -> set[int]:
    """Return the days of rain, with the days after them."""
    readings = data.readings
    if readings is None:
        return set()
    rain = [k for k, name in enumerate(readings.quantities) if "rain" in name.casefold()]
    wet = np.isin(readings.quantity, rain) & (readings.value >= WET_MM) & (readings.day > 0)
    return {int(day) + later for day in readings.day[wet] for later in (0, 1)}
