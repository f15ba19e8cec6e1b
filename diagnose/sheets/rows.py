"""The rows of a table: when each was taken, and of which heat; and which of them are meant."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, time

from diagnose.errors import Fault
from diagnose.rulebase.nearest import nearest
from diagnose.sheets.columns import Column, Layout
from diagnose.sheets.dates import ORDERS, Moment, clock_in, days_in, in_words, shared
from diagnose.sheets.given import Choice, Doubt, Given, InDoubt, listed, quoted
from diagnose.sheets.table import Cell, address, shown

PICKED_BY = ("heat", "ladle", "shift", "pattern")
"""What rows can be picked by, beside day, time and number."""
MOST = 9
"""Ways out that are offered for one doubt."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its number from nought, its day and time where known, and its heat and the like."""

    number: int
    day: date | None
    clock: time | None
    keys: Mapping[str, str]

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
    dated: _Days | None = None
    if "date" in columns:
        dated = _Days(layout, columns["date"], numbers, values["date"], given)
    known = given.poured.day if given.poured and "time" in columns else None
    days = dated.days() if dated else dict.fromkeys(numbers, known)
    rows = []
    for number in numbers:
        own = values["time"][number] if "time" in values else None
        behind = values["date"][number] if dated and days[number] else None
        clock = clock_in(own) or clock_in(behind)
        keys = {key: shown(values[key][number]) for key in PICKED_BY if key in values}
        rows.append(Row(number, days[number], clock, keys))
    if dated:
        return Rows(tuple(rows), tuple(dated.doubts), tuple(dated.remarks))
    remark = f"Its times have no dates and are taken to be of {in_words(known)}." if known else ""
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


class _Days:
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
        self._tell_of_others(numbers)

    def days(self) -> dict[int, date | None]:
        """Return row -> its day, None for one that has none."""
        order = self._order()
        return {number: way.get(order) for number, way in self.ways.items()}

    def _tell_of_others(self, numbers: Sequence[int]) -> None:
        bad = [n for n in numbers if self.values[n] is not None and not self.ways[n]]
        empty = [n for n in numbers if self.values[n] is None]
        if bad:
            cells = [f"{address(n, self.column.number)} '{shown(self.values[n])}'" for n in bad[:5]]
            more = f" and {len(bad) - 5} more" if len(bad) > 5 else ""
            one = "is no date" if len(bad) == 1 else "are no dates"
            self.remarks.append(f"{', '.join(cells)}{more} {one}.")
        if empty and len(empty) < len(numbers) and self.given.carry is None:
            rows = listed([str(n + 1) for n in empty[:MOST]])
            self.doubts.append(
                Doubt(
                    f"There is no date in row{'s' * (len(empty) > 1)} {rows}"
                    f"{' and more' * (len(empty) > MOST)}.",
                    (
                        Choice("the row above holds", "--carry", replace(self.given, carry=True)),
                        Choice("leave them out", "--no-carry", replace(self.given, carry=False)),
                    ),
                )
            )

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
        telling = [n for n, way in dated.items() if len(way) < len(ORDERS) and len(way) == 1]
        open_ones = any(len({*way.values()}) > 1 for way in dated.values())
        if telling and open_ones:
            cell = address(telling[0], self.column.number)
            text = shown(self.values[telling[0]])
            self.remarks.append(f"Dates are read as {ORDERS[order]}: {cell} says {text}.")

    def _doubt(self, dated: Mapping[int, Mapping[str, date]], orders: Sequence[str]) -> Doubt:
        number = next(n for n, way in dated.items() if len({way[o] for o in orders}) > 1)
        text, cell = shown(self.values[number]), address(number, self.column.number)
        ways = [dated[number][order] for order in orders]
        return Doubt(
            f"{cell} '{text}' may be {listed([in_words(way) for way in ways], 'or')}.",
            tuple(
                Choice(
                    f"{ORDERS[order]}: {in_words(dated[number][order])}",
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
        told = listed([f"{address(n, self.column.number)} '{shown(self.values[n])}'"
                       for n in cells])  # fmt: skip
        what = f"The dates in {told} cannot all be read in one order of day and month."
        return self.layout.table.fault(what, "Write them as 2026-03-14.")

    def _unfit(self, dated: Mapping[int, Mapping[str, date]]) -> Fault:
        number = next(n for n, way in dated.items() if self.given.order not in way)
        cell = address(number, self.column.number)
        what = f"{cell} '{shown(self.values[number])}' cannot be {ORDERS[self.given.order]}."
        return self.layout.table.fault(what, "Give another --order.")


def pick(layout: Layout, rows: Sequence[Row], given: Given) -> list[Row]:
    """Return the rows that are meant; with only ``poured`` those up to that moment.

    Raises Fault where there is none, and InDoubt where a heat stands under several dates.
    """
    found = _by_number(layout, rows, given) if given.rows else list(rows)
    for key, wanted in given.keys:
        found = _by_key(layout, found, key, wanted)
    if given.day is not None:
        return _by_day(layout, found, given.day)
    if given.keys:
        return _of_one_day(found, given)
    if given.only_poured and given.poured is not None:
        return _up_to(layout, found, given.poured)
    return found


def which_rows(rows: Sequence[Row], given: Given) -> Doubt:
    """Return the doubt which rows are meant: offered by day, else by heat, else one by one."""
    say = f"There are {len(rows)} rows. Which are meant?"
    days = sorted({row.day for row in rows if row.day}, reverse=True)
    if len(days) > 1:
        return Doubt(say, tuple(_day_choice(day, given) for day in days[:MOST]))
    for key in PICKED_BY:
        texts = list(dict.fromkeys(row.keys.get(key, "") for row in rows))
        if len(texts) > 1:
            named = [text for text in texts if text][-MOST:]
            return Doubt(say, tuple(
                Choice(f"{key} {text}", f"--{key} {quoted(text)}",
                       replace(given, keys=(*given.keys, (key, text))))
                for text in named
            ))  # fmt: skip
    return Doubt(say, tuple(
        Choice(str(row), f"--row {row.number + 1}", replace(given, rows=(row.number + 1,)))
        for row in rows[-MOST:]
    ))  # fmt: skip


def _day_choice(day: date, given: Given) -> Choice:
    return Choice(in_words(day), f"--date {day}", replace(given, day=day))


def _by_number(layout: Layout, rows: Sequence[Row], given: Given) -> list[Row]:
    known = {row.number + 1: row for row in rows}
    for number in given.rows:
        if number not in known:
            what = f"Row {number} holds no readings."
            numbers = f"They stand in rows {min(known)} to {max(known)}." if known else ""
            raise layout.table.fault(what, numbers)
    return [known[number] for number in dict.fromkeys(given.rows)]


def _by_key(layout: Layout, rows: Sequence[Row], key: str, wanted: str) -> list[Row]:
    """Return the rows of a heat, ladle, shift or pattern."""
    if key == "heat" and not layout.holding("heat") and layout.holding("ladle"):
        key = "ladle"
    if not layout.holding(key):
        what = f"No column is understood as that of the {key}."
        raise layout.table.fault(what, f"Say which it is: --column 'HEADING={key}'.")
    found = [row for row in rows if _same(row.keys.get(key, ""), wanted)]
    if found:
        return found
    texts = list(dict.fromkeys(row.keys.get(key, "") for row in rows if row.keys.get(key)))
    near = nearest(wanted, texts, 3) or [text for text in texts if wanted in text][:3]
    if near:
        instead = f"Did you mean {listed([repr(text) for text in near], 'or')}?"
    else:
        instead = f"There is {listed(texts[:12])}." if texts else "The column is empty."
    raise layout.table.fault(f"No row is of {key} {wanted!r}.", instead)


def _same(one: str, other: str) -> bool:
    """Tell whether two numbers of a heat are the same.

    >>> _same("017", "17"), _same("h-17", "H-17"), _same("17A", "17")
    (True, True, False)
    """
    if one.isdecimal() and other.strip().isdecimal():
        return int(one) == int(other)
    return one.casefold() == other.strip().casefold() != ""


def _by_day(layout: Layout, rows: Sequence[Row], day: date) -> list[Row]:
    if not layout.holding("date"):
        what = "No column is understood as that of the dates."
        way_out = "Say which it is, --column 'HEADING=date', or pick rows by --row."
        raise layout.table.fault(what, way_out)
    found = [row for row in rows if row.day == day]
    if found:
        return found
    dated = [row for row in rows if row.day]
    if not dated:
        raise layout.table.fault(f"No row is of {in_words(day)}.", "None has a date.")
    sides = (_closest(dated, day, lambda one: one < day), _closest(dated, day, lambda o: o > day))
    instead = f"The nearest: {listed([str(row) for row in sides if row])}."
    raise layout.table.fault(f"No row is of {in_words(day)}.", instead)


def _closest(rows: Iterable[Row], day: date, side: Callable[[date], bool]) -> Row | None:
    on_that_side = [row for row in rows if row.day and side(row.day)]
    return min(on_that_side, key=lambda row: abs((row.day or day) - day), default=None)


def _of_one_day(rows: Sequence[Row], given: Given) -> list[Row]:
    """Return the rows of a heat, if all are of one day, or some of the day of pouring."""
    days = sorted({row.day for row in rows if row.day}, reverse=True)
    if len(days) < 2:
        return list(rows)
    if given.poured is not None and given.poured.day in days:
        return [row for row in rows if row.day == given.poured.day]
    said = listed([f"{key} {text}" for key, text in given.keys])
    say = f"There are rows of {said} under {len(days)} dates."
    raise InDoubt(Doubt(say, tuple(_day_choice(day, given) for day in days[:MOST])))


def _up_to(layout: Layout, rows: Sequence[Row], poured: Moment) -> list[Row]:
    """Return the rows that were taken before the pouring, as far as that can be told."""
    if not layout.holding("date", "time"):
        what = "No column is understood as that of dates or times."
        raise layout.table.fault(what, "Say which it is: --column 'HEADING=date'.")
    found = [row for row in rows if row.moment and _not_after(row.moment, poured)]
    if not found:
        raise layout.table.fault(f"No row is of before {poured}.", "Is the day right?")
    return found


def _not_after(moment: Moment, poured: Moment) -> bool:
    if moment.clock is None or poured.clock is None:
        return moment.day <= poured.day
    return moment.sorted_by <= poured.sorted_by
