"""The account of the rows of one table: every row is used, or set aside with its reason."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from diagnose.batch.reading.data import Codes
from diagnose.batch.reading.grid import Coded, Grid, text_of_row
from diagnose.batch.result import Rows, SetAside

Mask = NDArray[np.bool_]
_TOTALS = re.compile(
    r"\s*(?:grand|sub|sub-|month|week|day)?\s*-?\s*(?:totals?|sum|sums|summe|gesamt|mean|average|avg|\u03a3)\b"
    r"(?!\s+loss)", re.IGNORECASE
)  # fmt: skip


class Account:
    """Which rows of a grid are set aside, and why; the first reason holds."""

    def __init__(self, where: str, grid: Grid) -> None:
        self.where = where
        self.grid = grid
        self.aside: Mask = np.zeros(len(grid.rows), dtype=bool)
        self._why: dict[int, str] = {}
        self.put(grid.again, "the headings once more")

    def put(self, mask: Mask, why: str | Callable[[int], str]) -> None:
        """Set rows aside."""
        for place in np.flatnonzero(mask & ~self.aside):
            self._why[int(place)] = why if isinstance(why, str) else why(int(place))
        self.aside |= mask

    @property
    def used(self) -> Mask:
        """Which rows are used."""
        return ~self.aside

    def rows(self, columns: Sequence[Coded]) -> Rows:
        """Return the account; ``columns``: of which a row that is set aside is quoted."""
        aside = [
            SetAside(self.where, int(self.grid.rows[place]), why, text_of_row(columns, place))
            for place, why in self._why.items()
        ]
        aside += [SetAside(self.where, row, why, text) for row, why, text in self.grid.broken]
        read = len(self.grid.rows) + len(self.grid.broken)
        return Rows(read, read - len(aside), tuple(sorted(aside, key=lambda one: one.row)))


def totals(columns: Iterable[Coded], count: int) -> Mask:
    """Return the rows in which a cell says that it is a row of totals or means."""
    found = np.zeros(count, dtype=bool)
    for column in columns:
        told = [isinstance(cell, str) and bool(_TOTALS.match(cell)) for cell in column.values]
        if any(told):
            found |= column.spread(np.array(told, dtype=bool), False).astype(bool)
    return found


def carried(column: Coded, again: Mask, empty_too: bool) -> Coded:
    """Return a column in which some rows hold what the row above does.

    ``again``: rows that say so, and rows that are none. ``empty_too``: empty cells as well.
    """
    mark = again | (column.codes < 0) if empty_too else again
    if not mark.any():
        return column
    places = np.where(mark, 0, np.arange(len(mark)))
    codes = np.where(mark & (np.maximum.accumulate(~mark) == 0), -1, column.codes[
        np.maximum.accumulate(places)])  # fmt: skip
    return Coded(codes.astype(np.int32), column.values)


def alike(columns: Sequence[Coded]) -> Codes:
    """Return for each row the place of the first row that is the same in every cell.

    Rows are compared by a hash of 64 bits of their cells: of ten million rows two different ones
    are taken for the same in one sheet of 400,000.
    """
    size = len(columns[0].codes)
    whole = np.zeros(size, dtype=np.uint64)
    numbers = np.random.default_rng(20_261_130)
    with np.errstate(over="ignore"):
        for column in columns:
            salt = numbers.integers(1, 2**63, size=len(column.values) + 1, dtype=np.uint64)
            whole += salt[column.codes]
    _, first, inverse = np.unique(whole, return_index=True, return_inverse=True)
    return np.asarray(first[inverse], dtype=np.int32)
