"""Which rows of a table are meant: by day, by heat, by number, or those before the pouring."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date

from diagnose.basics.nearest import nearest
from diagnose.sheets.columns import Layout
from diagnose.sheets.dates import Moment, day_in_words
from diagnose.sheets.given import Choice, Doubt, Given, InDoubt, listed, on_command_line
from diagnose.sheets.rows import PICKED_BY, Row

MOST = 9
"""Ways out that are offered for one doubt; each is one key."""


def pick(layout: Layout, rows: Sequence[Row], given: Given) -> list[Row]:
    """Return the rows that are meant; with only ``poured`` those up to that moment.

    Raises Fault where there is none, and InDoubt where a heat stands under several dates.
    """
    found = _by_number(layout, rows, given) if given.rows else [row for row in rows if not row.odd]
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
        say = f"{say} These are the latest days." if len(days) > MOST else say
        return Doubt(say, tuple(_day_choice(day, given) for day in days[:MOST]))
    for key in PICKED_BY:
        texts = list(dict.fromkeys(row.keys.get(key, "") for row in rows))
        if len(texts) > 1:
            named = [text for text in texts if text][-MOST:]
            return Doubt(say, tuple(
                Choice(f"{key} {text}", f"--{key} {on_command_line(text)}",
                       replace(given, keys=(*given.keys, (key, text))))
                for text in named
            ))  # fmt: skip
    return Doubt(say, tuple(
        Choice(str(row), f"--row {row.number + 1}", replace(given, rows=(row.number + 1,)))
        for row in rows[-MOST:]
    ))  # fmt: skip


def _day_choice(day: date, given: Given) -> Choice:
    return Choice(day_in_words(day), f"--date {day}", replace(given, day=day))


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
        instead = f"There is {listed(texts)}." if texts else "The column is empty."
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
        raise layout.table.fault(f"No row is of {day_in_words(day)}.", "None has a date.")
    sides = (_closest(dated, day, lambda one: one < day), _closest(dated, day, lambda o: o > day))
    instead = f"The nearest: {listed([str(row) for row in sides if row])}."
    raise layout.table.fault(f"No row is of {day_in_words(day)}.", instead)


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
