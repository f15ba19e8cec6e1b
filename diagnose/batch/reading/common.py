"""What the sheets of a batch have in common: days, times, factors, and how numbers are written."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from diagnose.basics.errors import Fault
from diagnose.batch.reading.account import Account, Mask, carried
from diagnose.batch.reading.data import Arrays, Floats
from diagnose.batch.reading.days import Days, days_of
from diagnose.batch.reading.figures import Figures, decimal_mark, figures
from diagnose.batch.reading.given import Ask, Given, Question, Way, in_doubt
from diagnose.batch.reading.grid import Coded
from diagnose.batch.reading.holds import FACTORS, NUMBERS
from diagnose.batch.reading.layout import Held, Page
from diagnose.batch.reading.levels import Levels, is_ditto
from diagnose.batch.reading.senses import COUNT_OF, BatchNames
from diagnose.batch.reading.vocabulary import Vocabulary
from diagnose.sheets.dates import clock_in
from diagnose.sheets.table import Cell

MANY_EMPTY = 0.2
"""Share of rows without a date from which it has to be said what holds for them."""


@dataclass(slots=True)
class Shared:
    """What is gathered over all sheets, and what was said about them.

    ``instead``: words that are remarks, standing in where no fault word does.
    """

    names: BatchNames
    given: Given
    ask: Ask | None = None
    levels: dict[str, Levels] = field(default_factory=dict)
    words: Vocabulary = field(default_factory=lambda: Vocabulary(fold=True))
    remarks: Vocabulary = field(default_factory=lambda: Vocabulary(fold=False))
    instead: set[int] = field(default_factory=set)
    answers: dict[str, str] = field(default_factory=dict)

    def level(self, factor: str) -> Levels:
        """Return the levels of a factor."""
        if factor not in self.levels:
            same = ((one, other) for of, one, other in self.given.same if of == factor)
            self.levels[factor] = Levels(same)
        return self.levels[factor]

    def settle(self, where: str, question: Question) -> str:
        """Return the answer to a question; raise Fault where nobody can be asked."""
        if question.about in self.answers:
            return self.answers[question.about]
        if self.ask is None:
            raise in_doubt(where, question)
        self.answers[question.about] = self.ask(question)
        return self.answers[question.about]


class Common:
    """Days, minutes, factors and numbers of one table."""

    def __init__(self, page: Page, account: Account, shared: Shared) -> None:
        self.page = page
        self.shared = shared
        self.size = len(page.grid.rows)
        self._none = account.aside.copy()
        self.remarks: list[str] = list(page.grid.remarks)
        self.mark = self._mark()
        self.carry = shared.given.carry
        self.days = self._days()
        self.minute = self._minutes()
        self.factors = {
            held.holds: shared.level(held.holds).codes(
                self.above(page.grid.column(held.number, True))
            )
            for held in page.columns
            if held.holds in FACTORS
        }
        if not np.isnan(self.minute).all():
            hours = Coded(np.where(np.isnan(self.minute), -1, self.minute // 60).astype(np.int32),
                          [f"{hour:02d}" for hour in range(24)])  # fmt: skip
            self.factors["hour"] = shared.level("hour").codes(hours)
        self.poured = self._poured()

    def above(self, column: Coded) -> Coded:
        """Return a column with what ditto marks stand for; also empty cells, if that was said."""
        ditto = np.array([is_ditto(cell) for cell in column.values], dtype=bool)
        says_so = column.spread(ditto, False).astype(bool) | self._none
        return carried(column, says_so, self.carry is True)

    @property
    def anything(self) -> Mask:
        """Whether a row has a day or a level of any factor."""
        found = self.days.days > 0
        for name, codes in self.factors.items():
            found = found | (codes >= 0) if name != "hour" else found
        return found

    def keys(self) -> Arrays:
        """Return what tells one pouring from another."""
        return {"day": self.days.days, "minute": self.minute, **self.factors}

    def figures(self, held: Held) -> Figures:
        """Return the numbers of a column."""
        wanted = self.shared.names.unit(held.holds)
        column = self.page.grid.column(held.number, False)
        return figures(column, self.mark, held.unit or wanted, wanted)

    def figures_of(self, holds: str) -> Figures | None:
        """Return the numbers of the column that holds something, or None."""
        found = self.page.holding(holds)
        return self.figures(found[0]) if found else None

    def _mark(self) -> str:
        numbers = [
            (held.heading, self.page.grid.column(held.number, False))
            for held in self.page.columns
            if held.holds in NUMBERS or held.holds.startswith(COUNT_OF)
            or self.shared.names.is_reading(held.holds)
        ]  # fmt: skip
        mark, question = decimal_mark(numbers, self.shared.given)
        return self.shared.settle(self.page.where, question) if question else mark

    def _days(self) -> Days:
        column = self.page.column("date")
        if column is None and (column := self.page.column("date found")) is not None:
            self.remarks.append(
                "It has no date of pouring: the date on which the scrap was found is taken."
            )
        if column is None:
            nothing = Coded(np.full(self.size, -1, dtype=np.int32), [])
            self.remarks.append("It has no column of dates: nothing can be said of the time.")
            return days_of(nothing, self.shared.given)
        column = self.above(column)
        self._ask_about_empty(column)
        if self.carry:
            column = self.above(column)
        days = days_of(column, self.shared.given)
        if days.question:
            order = self.shared.settle(self.page.where, days.question)
            days = days_of(column, Given(order=order))
        self.remarks += days.remarks
        return days

    def _ask_about_empty(self, column: Coded) -> None:
        empty = ~column.filled & ~self._none
        count, rows = int(empty.sum()), int((~self._none).sum())
        if not count or self.carry is not None:
            return
        if count > MANY_EMPTY * rows:
            question = Question("carry", f"There is no date in {count} of {rows} rows.", (
                Way("yes", "that of the row above holds", "--carry"),
                Way("no", "leave them without", "--no-carry"),
            ))  # fmt: skip
            self.carry = self.shared.settle(self.page.where, question) == "yes"
        else:
            self.remarks.append(f"{count} rows have no date; they count, but on no day.")

    def _minutes(self) -> Floats:
        """Return the minute of the day of each row, from its time or from that behind its date."""
        found = np.full(self.size, np.nan)
        for holds in ("date", "time"):
            held = self.page.holding(holds)
            if held:
                column = self.page.grid.column(held[0].number, True)
                column = self.above(column)
                of_value = np.array(
                    [_minute(c, bare=holds == "time") for c in column.values] or [np.nan]
                )
                spread = column.spread(of_value, np.nan).astype(np.float64)
                found = np.where(np.isnan(spread), found, spread)
        return found

    def _poured(self) -> Figures | None:
        """Return the castings poured: as such, or moulds times what stands in one."""
        made = self.figures_of("poured")
        moulds, each = self.figures_of("moulds"), self.figures_of("per mould")
        if made is not None or moulds is None:
            return made
        if each is None:
            self.remarks.append("It has moulds poured, not castings; each is taken for one.")
            return moulds
        wrong = moulds.wrong | each.wrong
        return Figures(moulds.values * each.values, wrong, moulds.column)


def common_of(page: Page, account: Account, shared: Shared) -> Common:
    """Return days, minutes, factors and numbers of a table."""
    if not len(page.grid.rows):
        raise Fault(f"{page.where}: there is no row below the headings.")
    return Common(page, account, shared)


def _minute(cell: Cell, *, bare: bool) -> float:
    """Return the minute of the day that a cell says; ``bare``: also one that is only an hour.

    >>> _minute("14:35", bare=True), _minute(6.0, bare=True), _minute("0635", bare=True)
    (875.0, 360.0, 395.0)
    """
    if bare and isinstance(cell, float):
        if 0.0 < cell < 1.0:
            return float(round(cell * 24 * 60))
        cell = f"{cell:g}" if cell.is_integer() else cell
    if bare and isinstance(cell, str) and cell.isdecimal() and int(cell) < 24 and len(cell) < 3:
        return int(cell) * 60.0
    if bare and isinstance(cell, str) and cell.isdecimal() and len(cell) == 3:
        cell = f"0{cell}"
    clock = clock_in(cell)
    return clock.hour * 60.0 + clock.minute if clock else float("nan")
