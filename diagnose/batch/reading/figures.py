"""The numbers in a column, each different one read once."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from diagnose.basics.quantity import UNITS, convert
from diagnose.batch.reading.data import Floats
from diagnose.batch.reading.given import Given, Question, Way
from diagnose.batch.reading.grid import Coded
from diagnose.sheets.cellmarks import UNWORKED
from diagnose.sheets.heading import unit_of
from diagnose.sheets.numbers import MARKS, is_nothing, numbers_in
from diagnose.sheets.table import Cell, shown

PIECES = {"off", "pcs", "pc", "pieces", "castings", "casting", "ea", "each", "no", "x", "nos"}
"""What may stand behind a number of castings."""
_MONEY = re.compile(r"^\s*(?:[€£$]|eur|gbp|usd)\s*|\s*(?:[€£$]|eur|gbp|usd)\s*$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Figures:
    """The numbers of a column, one a row: nan for none. ``wrong``: rows with something else."""

    values: Floats
    wrong: NDArray[np.bool_]
    column: Coded

    def why(self, row: int) -> str:
        """Return why a row holds no number."""
        cell = self.column.values[self.column.codes[row]]
        if cell == UNWORKED:
            return UNWORKED
        return f"{shown(cell)!r} is no number"


def decimal_mark(columns: list[tuple[str, Coded]], given: Given) -> tuple[str, Question | None]:
    """Return the mark that parts decimals in a sheet, and the question where it cannot be told.

    The mark is that with which most cells can be read; a question is put where some number would
    be another with the other mark, and all can be read with either.
    """
    if given.decimal:
        return given.decimal, None
    fits: Counter[str] = Counter()
    doubtful = ""
    for _, column in columns:
        for cell in column.values:
            ways, _ = _ways(cell)
            if not isinstance(cell, str) or not ways:
                continue
            if len(ways) == 1 or len({*ways.values()}) == 1:
                telling = len(ways) == 1 and any(mark in cell for mark in MARKS)
                fits.update(ways if telling else ())
            else:
                doubtful = doubtful or cell
    marks = [mark for mark, count in fits.most_common()]
    if marks or not doubtful:
        return (marks or ["."])[0], None
    ways, _ = _ways(doubtful)
    may_be = " or ".join(f"{value:g}" for value in ways.values())
    options = [Way(m, f"{ways[m]:g}", f"--decimal {MARKS[m]}") for m in ways]
    return "", Question("decimal", f"{doubtful!r} may be {may_be}.", tuple(options))


def _ways(cell: Cell) -> tuple[dict[str, float], str]:
    if isinstance(cell, str):
        cell = _MONEY.sub("", cell)
    return numbers_in(cell)


def figures(column: Coded, mark: str, unit: str = "", wanted: str = "") -> Figures:
    """Return the numbers of a column, turned from its unit into the one that is wanted."""
    values = np.full(len(column.values), np.nan)
    wrong = np.zeros(len(column.values), dtype=bool)
    for number, cell in enumerate(column.values):
        if is_nothing(cell) and cell != "x":
            continue
        value = _figure(cell, mark, unit, wanted)
        wrong[number] = value is None
        values[number] = np.nan if value is None else value
    spread = column.spread(values, np.nan).astype(np.float64)
    return Figures(spread, column.spread(wrong, False).astype(bool), column)


def _figure(cell: Cell, mark: str, unit: str, wanted: str) -> float | None:
    """Return one number, or None where there is none."""
    ways, rest = _ways(cell)
    own = unit_of(rest) if rest else unit
    if not ways or (rest and not own and rest.casefold().rstrip(".") not in PIECES):
        return None
    value = ways.get(mark, next(iter(ways.values())))
    if not np.isfinite(value):
        return None
    if own and wanted and own != wanted:
        if UNITS[own].kind != UNITS[wanted].kind:
            return None
        return convert(value, own, wanted)
    return value
