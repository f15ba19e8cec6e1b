"""The readings in the rows that are meant, each with its cell, its unit and its age."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta

from diagnose.basics.duration import exact
from diagnose.basics.errors import Fault, Problem
from diagnose.basics.quantity import UNITS
from diagnose.reasoning.taking import measurement_found
from diagnose.sheets.columns import Column, Layout
from diagnose.sheets.dates import Moment
from diagnose.sheets.given import Choice, Doubt, Given, InDoubt
from diagnose.sheets.heading import unit_of
from diagnose.sheets.names import Names, other_units
from diagnose.sheets.numbers import MARKS, is_nothing, numbers_in, shared_marks
from diagnose.sheets.rows import Row
from diagnose.sheets.table import address, shown

MOST = 20
"""Readings of one measurement that are taken; more are no test of one reject."""


@dataclass(frozen=True, slots=True)
class Taken:
    """One reading taken from a cell.

    ``means``: the measurement. ``value`` in ``unit``, as the sheet has it. ``age``: from the test
    to the pouring, None where either has no time of day; below nought it came after. ``days``:
    the same in whole days.
    """

    means: str
    value: float
    unit: str
    row: Row
    cell: str
    age: timedelta | None = None
    days: int | None = None

    @property
    def text(self) -> str:
        """The reading as it is written down."""
        return f"{self.value:.12g} {self.unit}"

    @property
    def away(self) -> timedelta | None:
        """How far from the pouring it was taken, before or after; None where it is not known."""
        if self.age is not None:
            return abs(self.age)
        return timedelta(days=abs(self.days)) if self.days else None


def readings_in(layout: Layout, rows: Sequence[Row], names: Names, given: Given) -> list[Taken]:
    """Return the readings of the rows that are meant.

    With a moment of pouring and neither day, heat nor rows given, each measurement takes the row
    nearest before it. Raises Fault with every cell that holds no reading that can be, and InDoubt
    for a number whose decimals cannot be told.
    """
    found: list[Taken] = []
    problems: list[Problem] = []
    for column in layout.columns:
        if not names.is_measured(column.means):
            continue
        cells = _Cells(layout, column, names, given)
        wanted = [row for row in rows if not is_nothing(cells.at(row))]
        if given.only_poured:
            wanted = _latest(wanted)
        for row in wanted:
            try:
                found.append(cells.read(row))
            except InDoubt:
                raise
            except Fault as fault:
                problems += fault.problems
    problems += _too_many(layout, found, names)
    if problems:
        raise Fault(*problems)
    return found


def _latest(rows: Sequence[Row]) -> list[Row]:
    moments = [row.moment.sorted_by for row in rows if row.moment]
    return [row for row in rows if row.moment and row.moment.sorted_by == max(moments)]


def _too_many(layout: Layout, found: Sequence[Taken], names: Names) -> Iterator[Problem]:
    for means in dict.fromkeys(taken.means for taken in found):
        count = sum(taken.means == means for taken in found)
        if count > MOST:
            what = f"The rows that are meant hold {count} readings of {names.called(means)}."
            yield layout.table.problem(what, f"Pick fewer rows; at most {MOST} are taken.")


class _Cells:
    """The cells of one column, read as numbers with units."""

    def __init__(self, layout: Layout, column: Column, names: Names, given: Given) -> None:
        self.layout = layout
        self.column = column
        self.names = names
        self.given = given
        cells = (layout.table.cell(row, column.number) for row in layout.filled_rows())
        self.marks = shared_marks(cells)

    def at(self, row: Row) -> str | float | None:
        """Return what stands in the cell of a row; a date there is text like any other."""
        cell = self.layout.table.cell(row.number, self.column.number)
        return cell if cell is None or isinstance(cell, str | float) else shown(cell)

    def read(self, row: Row) -> Taken:
        """Return the reading in a row; raise Fault, naming the cell, where there is none."""
        cell = self.at(row)
        self._refuse_merged(row)
        ways, rest = numbers_in(cell)
        unit = unit_of(rest) if rest else self.column.unit
        own = self.names.unit(self.column.means)
        if not ways or (rest and not unit):
            raise self._fault(row, f"'{shown(cell)}' is not one number.", "Mend the cell, or empty "
                              "it where nothing was measured.")  # fmt: skip
        if UNITS[unit].kind != UNITS[own].kind:
            name = self.names.called(self.column.means)
            raise self._fault(row, f"{unit} is no unit for {name}.", "It takes "
                              f"{' or '.join(other_units(own))}.")  # fmt: skip
        value = self._value(row, ways, unit)
        taken = Taken(self.column.means, value, unit, row, address(row.number, self.column.number))
        return with_age(taken, self.given.poured)

    def _value(self, row: Row, ways: dict[str, float], unit: str) -> float:
        """Return the number meant, or raise a fault that says what is wrong with it."""
        marks = [self.given.decimal] if self.given.decimal else self.marks
        likely = {ways[mark]: mark for mark in marks if mark in ways}
        likely = likely or {value: mark for mark, value in ways.items()}
        wrong = {value: self._wrong(value, unit) for value in likely}
        possible = [value for value, why in wrong.items() if not why]
        if not possible:
            why = wrong[next(iter(likely))]
            raise self._fault(row, why)
        if len(possible) > 1:
            raise InDoubt(self._doubt(row, {likely[value]: value for value in possible}))
        return possible[0]

    def _wrong(self, value: float, unit: str) -> str:
        """Return why a reading cannot be, or an empty text."""
        if not math.isfinite(value):
            return f"{value} is not a reading."
        try:
            measurement_found(self.names.book, self.column.means, f"{value:.12g} {unit}")
        except Fault as fault:
            return str(fault)
        return ""

    def _doubt(self, row: Row, ways: dict[str, float]) -> Doubt:
        text = shown(self.at(row))
        say = f"{self._where(row)}: '{text}' may be {' or '.join(f'{v:g}' for v in ways.values())}."
        return Doubt(say, tuple(
            Choice(f"decimal {MARKS[mark]}: {value:g}", f"--decimal {MARKS[mark]}",
                   replace(self.given, decimal=mark))
            for mark, value in ways.items()
        ))  # fmt: skip

    def _refuse_merged(self, row: Row) -> None:
        """Raise a fault where the cell is merged with that of another column in use."""
        covered = self.layout.table.covered
        first = covered.get((row.number, self.column.number))
        others = (column for column in self.layout.columns if column.means and first)
        for other in others:
            same = covered.get((row.number, other.number)) == first
            if same and other.number != self.column.number:
                cell = address(row.number, other.number)
                what = f"merged with {cell}, so it cannot be told what the reading is of."
                raise self._fault(row, what, "Part the cells.")

    def _where(self, row: Row) -> str:
        return self.column.cell(row.number)

    def _fault(self, row: Row, what: str, instead: str = "") -> Fault:
        return self.layout.table.fault(f"{self._where(row)}: {what}", instead)


def with_age(taken: Taken, poured: Moment | None) -> Taken:
    """Return a reading with how long before the pouring it was taken, as far as that is known."""
    moment = taken.row.moment
    if poured is None or moment is None:
        return taken
    days = (poured.day - moment.day).days
    if moment.clock is None or poured.clock is None:
        return replace(taken, days=days)
    return replace(taken, days=days, age=poured.sorted_by - moment.sorted_by)


def age_in_words(taken: Taken) -> str:
    """Return how old a reading was when the mould was poured; empty where it is not known."""
    if taken.age is None:
        if taken.days is None:
            return ""
        if taken.days == 0:
            return "on the day of pouring"
        return f"{_many(abs(taken.days), 'day')} {'before' if taken.days > 0 else 'after'} pouring"
    minutes = round(taken.age.total_seconds() / 60)
    if minutes == 0:
        return "at the time of pouring"
    return f"{exact(abs(minutes))} {'before' if minutes > 0 else 'after'} pouring"


def _many(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"
