"""The rows below the headings of one table, column by column, each value once.

A column of ten million cells has few different values: each is read once, and the rows keep its
number. So small sheets and large ones go through the same reading.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from diagnose.batch.reading.data import Codes
from diagnose.sheets.headrows import Headings
from diagnose.sheets.table import Cell, Table, shown


@dataclass(frozen=True, slots=True)
class Coded:
    """A column: ``values``, and for each row the number of its own, -1 for an empty cell."""

    codes: Codes
    values: Sequence[Cell]

    def spread(self, of_value: NDArray[np.generic], empty: object) -> NDArray[np.generic]:
        """Return for each row what was made of its value; ``empty`` for an empty cell."""
        whole = np.append(of_value, np.array([empty], dtype=of_value.dtype))
        return whole[self.codes]

    @property
    def filled(self) -> NDArray[np.bool_]:
        """Whether anything stands in each row."""
        return np.asarray(self.codes >= 0)


@dataclass(frozen=True, slots=True)
class Grid:
    """The filled rows of one table.

    ``rows``: as the spreadsheet numbers them. ``again``: rows in which the headings stand once
    more. ``column``: returns one, by its number; with ``over`` an empty cell of a merged area holds
    what the area does. ``broken``: row and reason of lines that are no rows of the table.
    """

    rows: Codes
    again: NDArray[np.bool_]
    column: Callable[[int, bool], Coded]
    broken: tuple[tuple[int, str, str], ...] = ()
    remarks: tuple[str, ...] = field(default=())


BESIDE = 0.2
"""Share of the rows of a text file with cells beyond the last heading from which these are a column
without a heading; where fewer have them, something parted a cell in two and shifted the rest."""


def headed(headings: Headings) -> int:
    """Return how many columns there are up to the last that has a heading."""
    return max((n + 1 for n, text in enumerate(headings.texts) if text), default=0)


def grid_of(table: Table, headings: Headings) -> Grid:
    """Return the rows of a table that is held in memory."""
    numbers = [
        number
        for number in range(headings.bottom + 1, headings.end)
        if any(cell is not None for cell in table.rows[number])
    ]
    broken = _shifted(table, numbers, headed(headings))
    numbers = [number for number in numbers if number not in broken]

    def column(place: int, over: bool) -> Coded:
        read = table.over if over else table.cell
        return coded([read(number, place) for number in numbers])

    hidden = sum(number in table.hidden_rows for number in numbers)
    remarks = (f"{hidden} rows are hidden in the workbook; they are read like all others.",)
    return Grid(
        np.array([number + 1 for number in numbers], dtype=np.int32),
        np.array([number in headings.again for number in numbers], dtype=bool),
        column,
        tuple((number + 1, why, text_of(table, number)) for number, why in broken.items()),
        remarks if hidden else (),
    )


def _shifted(table: Table, numbers: Sequence[int], width: int) -> dict[int, str]:
    """Return the rows of a text file with cells beyond the last heading, and what to say."""
    if table.sheet:
        return {}
    found = {}
    for number in numbers:
        cells = table.rows[number]
        filled = max((n + 1 for n, cell in enumerate(cells) if cell is not None), default=0)
        if filled > width:
            found[number] = f"it has {filled} cells under {width} headings"
    return found if len(found) <= BESIDE * len(numbers) else {}


def text_of(table: Table, number: int) -> str:
    """Return what stands in a row of a table, as it is quoted."""
    return " | ".join(shown(cell) for cell in table.rows[number] if cell is not None)


def coded(cells: Sequence[Cell]) -> Coded:
    """Return cells with every value once.

    >>> column = coded(["blow", None, "misrun", "blow"])
    >>> column.codes.tolist(), column.values
    ([0, -1, 1, 0], ['blow', 'misrun'])
    """
    known: dict[tuple[type, Cell], int] = {}
    codes = [
        -1 if cell is None else known.setdefault((type(cell), cell), len(known)) for cell in cells
    ]
    return Coded(np.array(codes, dtype=np.int32), [cell for _, cell in known])


def text_of_row(columns: Sequence[Coded], row: int) -> str:
    """Return what stands in a row, as it is quoted where the row is set aside."""
    cells = (
        shown(column.values[column.codes[row]]) for column in columns if column.codes[row] >= 0
    )
    return " | ".join(cells)
