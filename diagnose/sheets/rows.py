"""The rows of a table: when each was taken, and of which heat."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time

from diagnose.sheets.columns import Column, Layout
from diagnose.sheets.dates import Moment, clock_in, day_in_words
from diagnose.sheets.daycolumn import Days
from diagnose.sheets.given import Doubt, Given
from diagnose.sheets.table import Cell, shown

PICKED_BY = ("heat", "ladle", "shift", "pattern")
"""What rows can be picked by, beside day, time and number."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its number from nought, its day and time where known, and its heat and the like.

    ``odd``: what stands in the place of its date is none, as in a row of means.
    """

    number: int
    day: date | None
    clock: time | None
    keys: Mapping[str, str]
    odd: bool = False

    @property
    def moment(self) -> Moment | None:
        """When it was taken, as far as that is known."""
        return Moment(self.day, self.clock) if self.day else None

    def __str__(self) -> str:
        parts = [str(self.moment or self.clock or "")]
        parts += [f"{key} {text}" for key, text in self.keys.items() if text]
        words = ", ".join(part for part in parts if part)
        return f"row {self.number + 1}{f' ({words})' if words else ''}"


@dataclass(frozen=True, slots=True)
class Rows:
    """All rows of a table, with what is in doubt about them and what was noticed."""

    rows: tuple[Row, ...]
    doubts: tuple[Doubt, ...] = ()
    remarks: tuple[str, ...] = ()


def rows_of(layout: Layout, given: Given) -> Rows:
    """Return the rows below the headings.

    Raises Fault for dates that exclude each other, and InDoubt where day and month could be taken
    for each other and it matters.
    """
    numbers = layout.filled_rows()
    columns = {key: found[0] for key in ("date", "time", *PICKED_BY)
               if (found := layout.holding(key))}  # fmt: skip
    values = {key: _values(layout, column, numbers, given.carry is True and key != "time")
              for key, column in columns.items()}  # fmt: skip
    dated: Days | None = None
    if "date" in columns:
        dated = Days(layout, columns["date"], numbers, values["date"], given)
    known = given.poured.day if given.poured and "time" in columns else None
    days = dated.days() if dated else dict.fromkeys(numbers, known)
    rows = []
    for number in numbers:
        own = values["time"][number] if "time" in values else None
        behind = values["date"][number] if dated and days[number] else None
        clock = clock_in(own) or clock_in(behind)
        keys = {key: shown(values[key][number]) for key in PICKED_BY if key in values}
        odd = dated is not None and number in dated.odd
        rows.append(Row(number, days[number], clock, keys, odd))
    if dated:
        return Rows(tuple(rows), tuple(dated.doubts), tuple(dated.remarks))
    remark = (
        f"Its times have no dates and are taken to be of {day_in_words(known)}." if known else ""
    )
    return Rows(tuple(rows), (), tuple(filter(None, [remark])))


def _values(layout: Layout, column: Column, numbers: Sequence[int], carry: bool) -> dict[int, Cell]:
    """Return row -> what holds for it in a column; with ``carry`` an empty cell takes the last."""
    found: dict[int, Cell] = {}
    last: Cell = None
    for number in numbers:
        value = layout.table.over(number, column.number)
        found[number] = last if value is None and carry else value
        last = found[number]
    return found
