"""The column of dates of a table, and the order in which its days and months are to be read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from diagnose.basics.errors import Fault
from diagnose.sheets.columns import Column, Layout
from diagnose.sheets.dates import ORDERS, day_in_words, days_in, shared
from diagnose.sheets.given import Choice, Doubt, Given, InDoubt, listed
from diagnose.sheets.table import Cell, address, shown

MOST_NAMED = 5
"""Cells that are named one by one."""


class Days:
    """The column of dates, and in which order they are to be read."""

    def __init__(
        self, layout: Layout, column: Column, numbers: Sequence[int],
        values: Mapping[int, Cell], given: Given,
    ) -> None:  # fmt: skip
        self.layout = layout
        self.column = column
        self.values = values
        self.given = given
        self.ways = {number: days_in(values[number]) for number in numbers}
        self.doubts: list[Doubt] = []
        self.remarks: list[str] = []
        self.odd = {n for n in numbers if values[n] is not None and not self.ways[n]}
        self._tell_of_odd()
        self._ask_about_empty()

    def days(self) -> dict[int, date | None]:
        """Return row -> its day, None for one that has none."""
        order = self._order()
        return {number: way.get(order) for number, way in self.ways.items()}

    def _tell_of_odd(self) -> None:
        """Remark on rows that have something else in the place of their date, as of means."""
        odd = sorted(self.odd)
        cells = ", ".join(self._cell(number) for number in odd[:MOST_NAMED])
        more = f" and {len(odd) - MOST_NAMED} more" if len(odd) > MOST_NAMED else ""
        one = "is no date: the row is" if len(odd) == 1 else "are no dates: the rows are"
        if odd:
            self.remarks.append(f"{cells}{more} {one} left out.")

    def _ask_about_empty(self) -> None:
        """Ask what holds for rows without a date, unless that was said, or none has one."""
        empty = [number for number in self.ways if self.values[number] is None]
        if not empty or len(empty) == len(self.ways) or self.given.carry is not None:
            return
        rows = listed([str(number + 1) for number in empty[:MOST_NAMED]])
        more = " and more" if len(empty) > MOST_NAMED else ""
        carry, leave = replace(self.given, carry=True), replace(self.given, carry=False)
        ways = (
            Choice("that of the row above holds", "--carry", carry),
            Choice("leave them without", "--no-carry", leave),
        )
        say = f"There is no date in row{'s' * (len(empty) > 1)} {rows}{more}."
        self.doubts.append(Doubt(say, ways))

    def _cell(self, number: int) -> str:
        return f"{address(number, self.column.number)} '{shown(self.values[number])}'"

    def _order(self) -> str:
        dated = {number: way for number, way in self.ways.items() if way}
        orders = shared(dated.values())
        if self.given.order:
            if dated and self.given.order not in orders:
                raise self._unfit(dated)
            return self.given.order
        if not orders:
            raise self._clash(dated)
        if len({tuple(way[order] for way in dated.values()) for order in orders}) < 2:
            self._tell_how(dated, orders[0])
            return orders[0]
        doubt = self._doubt(dated, orders)
        if self.given.day or self.given.keys or self.given.poured:
            raise InDoubt(doubt)
        self.doubts.append(doubt)
        return ""

    def _tell_how(self, dated: Mapping[int, Mapping[str, date]], order: str) -> None:
        telling = [n for n, way in dated.items() if len(way) == 1]
        open_ones = any(len({*way.values()}) > 1 for way in dated.values())
        if telling and open_ones:
            cell = address(telling[0], self.column.number)
            text = shown(self.values[telling[0]])
            self.remarks.append(f"Dates are read as {ORDERS[order]}: {cell} says {text}.")

    def _doubt(self, dated: Mapping[int, Mapping[str, date]], orders: Sequence[str]) -> Doubt:
        number = next(n for n, way in dated.items() if len({way[o] for o in orders}) > 1)
        ways = [dated[number][order] for order in orders]
        return Doubt(
            f"{self._cell(number)} may be {listed([day_in_words(way) for way in ways], 'or')}.",
            tuple(
                Choice(
                    f"{ORDERS[order]}: {day_in_words(dated[number][order])}",
                    f"--order {order}",
                    replace(self.given, order=order),
                )
                for order in orders
            ),
        )

    def _clash(self, dated: Mapping[int, Mapping[str, date]]) -> Fault:
        first = {order: next((n for n, way in dated.items() if order not in way), None)
                 for order in ORDERS}  # fmt: skip
        cells = sorted({n for n in first.values() if n is not None})
        told = listed([self._cell(n) for n in cells])
        what = f"The dates in {told} cannot all be read in one order of day and month."
        return self.layout.table.fault(what, "Write them as 2026-03-14.")

    def _unfit(self, dated: Mapping[int, Mapping[str, date]]) -> Fault:
        number = next(n for n, way in dated.items() if self.given.order not in way)
        what = f"{self._cell(number)} cannot be {ORDERS[self.given.order]}."
        return self.layout.table.fault(what, "Give another --order.")
