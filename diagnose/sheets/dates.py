"""Dates and times as people write them, every way that they can be read; none is ever guessed."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime, time

from diagnose.basics.errors import Fault
from diagnose.sheets.table import Cell

ORDERS = {"dmy": "day, month, year", "mdy": "month, day, year", "ymd": "year, month, day"}
"""The orders in which the parts of a date are written."""
MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "jan january", "feb february", "mar march", "apr april", "may", "jun june",
            "jul july", "aug august", "sep sept september", "oct october", "nov november",
            "dec december",
        ),
        1,
    )
    for name in names.split()
}  # fmt: skip
_WEEKDAY = re.compile(r"(mon|tues?|wed(nes)?|thu(rs)?|fri|sat(ur)?|sun)(day)?[.,]?\s+", re.I)
_YEAR_FIRST = re.compile(r"(\d{4})([-/. ])(\d{1,2})\2(\d{1,2})")
_EIGHT_DIGITS = re.compile(r"(\d{4})()(\d{2})(\d{2})")
_YEAR_LAST = re.compile(r"(\d{1,2})([-/.]|\. ?)(\d{1,2})\2(\d{4})")
_SHORT_YEAR = re.compile(r"(\d{1,2})([-/.])(\d{1,2})\2(\d{2})")
_DAY_FIRST = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[-. /]*([a-z]{3,9})[-., /]*(\d{4}|\d{2})", re.I)
_MONTH_FIRST = re.compile(r"([a-z]{3,9})[. ]+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4})", re.I)
_CLOCK = re.compile(r"(\d{1,2})[:h](\d{2})(?::(\d{2})(?:\.\d+)?)?\s*([ap])?\.?m?\.?", re.I)
_BARE_CLOCK = re.compile(r"(\d{2})(\d{2})")
_FULL_HOUR = re.compile(r"(\d{1,2})\s*([ap])\.?m\.?", re.I)


@dataclass(frozen=True, slots=True, order=True)
class Moment:
    """A day, and the time of it where that is known."""

    day: date
    clock: time | None = None

    @property
    def sorted_by(self) -> datetime:
        """Where it stands among others; without a time at the start of its day."""
        return datetime.combine(self.day, self.clock or time.min)

    def __str__(self) -> str:
        at = f" {self.clock:%H:%M}" if self.clock else ""
        return f"{day_in_words(self.day)}{at}"


def day_in_words(day: date) -> str:
    """Return a day so that nobody can take its month for its day.

    >>> day_in_words(date(2026, 3, 4))
    '4 March 2026'
    """
    return f"{day.day} {day:%B %Y}"


def days_in(cell: Cell) -> dict[str, date]:
    """Return order -> day for every order in which a cell can be read as a date.

    >>> sorted((order, str(day)) for order, day in days_in("03/04/2026").items())
    [('dmy', '2026-04-03'), ('mdy', '2026-03-04')]
    >>> {str(day) for day in days_in("14 Mar 2026").values()}, days_in("Mean")
    ({'2026-03-14'}, {})
    """
    if isinstance(cell, datetime):
        return dict.fromkeys(ORDERS, cell.date())
    if isinstance(cell, date):
        return dict.fromkeys(ORDERS, cell)
    if isinstance(cell, float):
        return _days(f"{cell:.0f}") if cell.is_integer() and 19e6 < cell < 21e6 else {}
    return _days(_parted(cell)[0]) if isinstance(cell, str) else {}


def clock_in(cell: Cell) -> time | None:
    """Return the time of day that a cell holds, by itself or behind a date; None without one.

    Midnight behind a date counts as none: it is what programs write where no time was given.

    >>> clock_in("6:30"), clock_in("14.03.2026 3:05 pm"), clock_in("morning")
    (datetime.time(6, 30), datetime.time(15, 5), None)
    """
    if isinstance(cell, datetime):
        return cell.time().replace(microsecond=0) if cell.time() != time.min else None
    if isinstance(cell, time):
        return cell.replace(microsecond=0)
    if not isinstance(cell, str):
        return None
    before, after = _parted(cell)
    if after:
        found = _clock(after)
        return found if found != time.min else None
    return _clock(before)


def moment_of(text: str, what: str) -> Moment:
    """Return the moment that a person typed; raise Fault where it can be read in two ways.

    >>> print(moment_of("2026-03-14 15:30", "pouring"))
    14 March 2026 15:30
    """
    plain = " ".join(text.split())
    ways = sorted(set(days_in(plain).values()))
    if not ways:
        raise Fault(f"{what}: {text!r} is no date. Write it like this: 2026-03-14.")
    if len(ways) > 1:
        either = " or ".join(map(day_in_words, ways))
        instead = " or ".join(map(str, ways))
        raise Fault(f"{what}: {text!r} may be {either}. Write {instead}.")
    _, after = _parted(plain)
    clock = _clock(after) if after else None
    if after and clock is None:
        raise Fault(f"{what}: {after!r} is no time of day. Write it like this: 15:30.")
    return Moment(ways[0], clock)


def shared(ways: Iterable[dict[str, date]]) -> list[str]:
    """Return the orders in which every one of the dates can be read."""
    found = list(ways)
    return [order for order in ORDERS if all(order in way for way in found)]


def _parted(text: str) -> tuple[str, str]:
    """Part a date from the time behind it; what is only one of both comes first."""
    text = _WEEKDAY.sub("", text.strip(), count=1)
    found = re.fullmatch(r"(.*?\d)(?:T|,?\s+(?:at\s+)?)(\d{1,2}[:h]\d{2}.*|\d{1,2}\s*[ap]\.?m\.?)",
                         text, re.I)  # fmt: skip
    if found and _days(found[1]):
        return found[1], found[2].removesuffix("Z")
    return text, ""


def _clock(text: str) -> time | None:
    for pattern in (_CLOCK, _BARE_CLOCK, _FULL_HOUR):
        found = pattern.fullmatch(text.strip())
        if not found:
            continue
        if pattern is _FULL_HOUR:
            hour, minute, second, half = int(found[1]), 0, 0, found[2]
        else:
            hour, minute = int(found[1]), int(found[2])
            second = int(found[3] or 0) if pattern is _CLOCK else 0
            half = (found[4] or "") if pattern is _CLOCK else ""
        if half and not 1 <= hour <= 12:
            return None
        if half:
            hour = hour % 12 + (12 if half.lower() == "p" else 0)
        with suppress(ValueError):
            return time(hour, minute, second)
    return None


def _days(text: str) -> dict[str, date]:
    """Return order -> day for the text of a date alone."""
    text = text.strip().rstrip(",")
    for pattern, read in _PATTERNS:
        found = pattern.fullmatch(text)
        if found:
            ways: dict[str, date] = {}
            for order, (year, month, day) in read(found).items():
                with suppress(ValueError):
                    ways[order] = date(year, month, day)
            return ways
    return {}


def _plain(year: int, month: int, day: int) -> dict[str, tuple[int, int, int]]:
    return dict.fromkeys(ORDERS, (year, month, day))


def _day_or_month(found: re.Match[str]) -> dict[str, tuple[int, int, int]]:
    one, two, year = int(found[1]), int(found[3]), int(found[4])
    full = year + 2000 if year < 100 else year
    ways = {"dmy": (full, two, one), "mdy": (full, one, two)}
    if year < 100 and found[2] == "-":
        ways["ymd"] = (2000 + one, two, year)
    return ways


def _named_month(day: str, month: str, year: str) -> dict[str, tuple[int, int, int]]:
    full = int(year) + (2000 if len(year) == 2 else 0)
    return _plain(full, MONTHS.get(month.lower(), 0), int(day))


_PATTERNS: tuple[
    tuple[re.Pattern[str], Callable[[re.Match[str]], dict[str, tuple[int, int, int]]]], ...
] = (
    (_YEAR_FIRST, lambda found: _plain(int(found[1]), int(found[3]), int(found[4]))),
    (_EIGHT_DIGITS, lambda found: _plain(int(found[1]), int(found[3]), int(found[4]))),
    (_YEAR_LAST, _day_or_month),
    (_SHORT_YEAR, _day_or_month),
    (_DAY_FIRST, lambda found: _named_month(found[1], found[2], found[3])),
    (_MONTH_FIRST, lambda found: _named_month(found[2], found[1], found[3])),
)
