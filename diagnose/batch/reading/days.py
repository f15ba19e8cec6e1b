"""The days in a column of dates, in the orders that the sheet itself proves; none is guessed.

Dates of one form (the sign that parts them, and the length of the year) were written by one habit.
A form that has a date which only one order fits is read in that order. A form without one takes
the order of the other forms, if these agree. What then still could be two days is set aside.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from diagnose.batch.reading.data import Codes
from diagnose.batch.reading.given import Given, Question, Way
from diagnose.batch.reading.grid import Coded
from diagnose.sheets.dates import ORDERS, day_in_words, days_in
from diagnose.sheets.table import Cell, shown

FAR, WIDE = 200, 5
"""A date is a slip that lies farther from the middle one than so many days, and than so many times
the span of the middle half of all dates."""
_SERIAL = (30_000.0, 60_000.0)
"""Numbers of days since the last day of 1899, as spreadsheets count them: 1982 to 2064."""
_START = date(1899, 12, 30)


@dataclass(frozen=True, slots=True)
class Days:
    """The days of a column, as ordinals, 0 for none.

    ``wrong``: rows whose cell is no day that can be told. ``remarks``: what to know about it.
    ``question``: what has to be settled before any of them can be read.
    """

    days: Codes
    wrong: NDArray[np.bool_]
    column: Coded
    doubtful: NDArray[np.bool_]
    remarks: tuple[str, ...] = ()
    question: Question | None = None

    def why(self, row: int) -> str:
        """Return why a row has no day."""
        cell = shown(self.column.values[self.column.codes[row]])
        if self.doubtful[row]:
            return f"{cell!r} may be two days, and the sheet has dates in both orders"
        return f"{cell!r} is no date, or far from all others"


def days_of(column: Coded, given: Given) -> Days:
    """Return the days of a column of dates."""
    ways = [_ways(cell) for cell in column.values]
    forms = [_form(cell) for cell in column.values]
    proven = _proven(ways, forms)
    orders = {order for found in proven.values() for order in found}
    both = {form for form, found in proven.items() if len(found) > 1}
    only = given.order or (next(iter(orders)) if len(orders) == 1 else "")
    chosen: list[date | None] = []
    doubtful = np.zeros(len(ways), dtype=bool)
    for number, (way, form) in enumerate(zip(ways, forms, strict=True)):
        order = only or ("" if form in both else next(iter(proven.get(form, ())), ""))
        days = {*way.values()}
        if len(days) == 1:
            chosen.append(days.pop())
        elif order in way:
            chosen.append(way[order])
        else:
            chosen.append(None)
            doubtful[number] = bool(days)
    question = _question(column, ways, doubtful) if not orders and not given.order else None
    return _days(column, chosen, doubtful, question, _remarks(column, ways, forms, proven))


def _days(
    column: Coded, chosen: list[date | None], doubtful: NDArray[np.bool_],
    question: Question | None, remarks: tuple[str, ...],
) -> Days:  # fmt: skip
    ordinals = np.array([day.toordinal() if day else 0 for day in chosen], dtype=np.int32)
    spread = column.spread(ordinals, 0).astype(np.int32)
    known = spread[spread > 0]
    if known.size:
        low, middle, high = np.percentile(known, [25, 50, 75])
        far = np.abs(spread - middle) > max(FAR, WIDE * (high - low))
        spread = np.where(far, 0, spread).astype(np.int32)
    return Days(
        spread, column.filled & (spread == 0), column,
        column.spread(doubtful, False).astype(bool), remarks, question,
    )  # fmt: skip


def _ways(cell: Cell) -> dict[str, date]:
    """Return order -> day; a bare number is a day as spreadsheets count them."""
    if isinstance(cell, float) and _SERIAL[0] < cell < _SERIAL[1]:
        return dict.fromkeys(ORDERS, _START + timedelta(days=int(cell)))
    return days_in(cell)


def _form(cell: Cell) -> str:
    """Return the habit by which a date is written: its signs, and how long its numbers are.

    >>> _form("3/4/2026"), _form("03.04.26")
    ('//4', '..2')
    """
    if not isinstance(cell, str):
        return "cell"
    found = re.match(r"\s*(?:\w+[.,]?\s+)?\d{1,2}([-/. ]+)\d{1,2}([-/. ]+)(\d{4}|\d{2})\b", cell)
    if not found:
        return "other"
    return f"{found[1].strip()}{found[2].strip()}{len(found[3])}"


def _proven(ways: list[dict[str, date]], forms: list[str]) -> dict[str, set[str]]:
    """Return form -> the orders that some of its dates prove, by fitting no other."""
    proven: dict[str, set[str]] = {}
    for way, form in zip(ways, forms, strict=True):
        if len(way) == 1 and form not in ("cell", "other"):
            proven.setdefault(form, set()).update(way)
    return proven


def _question(
    column: Coded, ways: list[dict[str, date]], doubtful: NDArray[np.bool_]
) -> Question | None:
    if not doubtful.any():
        return None
    number = int(np.flatnonzero(doubtful)[0])
    text = shown(column.values[number])
    say = f"No date of this sheet tells its order of day and month: what is {text!r}?"
    return Question("order", say, tuple(
        Way(order, day_in_words(day), f"--order {order}") for order, day in ways[number].items()
    ))  # fmt: skip


def _remarks(
    column: Coded, ways: list[dict[str, date]], forms: list[str], proven: dict[str, set[str]]
) -> tuple[str, ...]:
    """Tell in which order dates are read, and that several forms are mixed."""
    remarks = []
    for form, orders in proven.items():
        number = next(n for n, way in enumerate(ways) if forms[n] == form and len(way) == 1)
        text = shown(column.values[number])
        if len(orders) == 1:
            (order,) = orders
            remarks.append(f"Dates like {text} are read as {ORDERS[order]}: this one proves it.")
        else:
            remarks.append(f"Dates like {text} stand there in both orders of day and month.")
    if len({form for form, way in zip(forms, ways, strict=True) if way}) > 1:
        remarks.append("Dates are written in several forms.")
    return tuple(remarks)
