"""One table as it stands in a file: its cells, and what each of them is called."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time

from diagnose.basics.errors import Fault, Place, Problem
from diagnose.reject.reject import one_line

Cell = str | float | datetime | date | time | None
"""What a cell holds; an empty one holds nothing."""

Spot = tuple[int, int]
"""Row and column of a cell, counted from nought."""

MOST_CELLS = 500_000
"""Cells of one table that are read; a sheet of a small works has a few thousand a year."""
LONGEST_SHOWN = 40
"""Letters of a cell that are shown in a message."""


@dataclass(frozen=True, slots=True)
class Table:
    """The cells of one sheet, row by row, the first being A1.

    ``file`` and ``sheet``: where it comes from; a text file has no sheets. ``covered``: cell of a
    merged area -> the first cell of that area. ``remarks``: how it was read. ``hidden``: the sheet
    is not shown in its workbook. ``unread``: why its cells were not read, if they were not.
    ``hidden_rows``: rows that the workbook does not show, as far as its format is known.
    """

    file: str
    rows: tuple[tuple[Cell, ...], ...]
    sheet: str = ""
    covered: Mapping[Spot, Spot] = field(default_factory=dict)
    remarks: tuple[str, ...] = ()
    hidden: bool = False
    unread: str = ""
    hidden_rows: frozenset[int] = frozenset()

    @property
    def width(self) -> int:
        """How many columns the widest row has."""
        return max(map(len, self.rows), default=0)

    def cell(self, row: int, column: int) -> Cell:
        """Return what stands in a cell itself; the rest of a merged area is empty."""
        if (row, column) in self.covered and self.covered[row, column] != (row, column):
            return None
        cells = self.rows[row] if 0 <= row < len(self.rows) else ()
        return cells[column] if column < len(cells) else None

    def over(self, row: int, column: int) -> Cell:
        """Return what holds for a cell: its own content, or that of the area it is merged into."""
        return self.cell(*self.covered.get((row, column), (row, column)))

    def fault(self, what: str, instead: str = "") -> Fault:
        """Return a fault of this table."""
        return Fault(self.problem(what, instead))

    def problem(self, what: str, instead: str = "") -> Problem:
        """Return one thing that is wrong with this table."""
        return Problem(Place(f"{self.file}, sheet {self.sheet}" if self.sheet else self.file), what,
                       instead)  # fmt: skip


def letters(column: int) -> str:
    """Return the letters of a column.

    >>> letters(0), letters(25), letters(26), letters(701), letters(702)
    ('A', 'Z', 'AA', 'ZZ', 'AAA')
    """
    name = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(ord("A") + rest) + name
    return name


def address(row: int, column: int) -> str:
    """Return what a cell is called.

    >>> address(11, 2)
    'C12'
    """
    return f"{letters(column)}{row + 1}"


def cleaned(text: str) -> str | None:
    r"""Return the text of a cell on one line, or None where there is none.

    >>> cleaned(" moist\u00a0ure\n(%) "), cleaned(" \t")
    ('moist ure (%)', None)
    """
    return one_line(text) or None


def shown(cell: Cell) -> str:
    """Return a cell as it is quoted in a message, shortened.

    >>> shown(17.0), shown("ladle 2"), shown(None), shown(time(6, 30))
    ('17', 'ladle 2', '', '06:30')
    """
    if cell is None:
        return ""
    if isinstance(cell, float):
        return f"{cell:.12g}"
    if isinstance(cell, datetime):
        return f"{cell:%Y-%m-%d %H:%M}"
    if isinstance(cell, time):
        return f"{cell:%H:%M}"
    text = str(cell)
    return text if len(text) <= LONGEST_SHOWN else f"{text[: LONGEST_SHOWN - 3]}..."
