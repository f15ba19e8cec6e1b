"""What the ticket of a reject says: pattern, day, heat, how many, and who made it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from datetime import date
from typing import Any

from diagnose.basics.errors import Fault
from diagnose.reject.one_line import one_line

LONGEST = 60
"""Characters of one entry; all of them stand on a few lines of a note."""
MOST_CASTINGS = 1_000_000
EARLIEST, LATEST = 1950, 2100
"""Years in which a casting may have been poured."""

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DAY_EXAMPLE = "Write year, month and day: 2026-03-14."
_COUNT = re.compile(r"(\d+)\s*(?:(?:/|of|out of)\s*(\d+))?(?:\s*(?:castings|pieces|pcs))?")


@dataclass(frozen=True, slots=True)
class Ticket:
    """What goes with a reject and says nothing of its cause; each is empty where it is not known.

    ``date``: of the pouring, as ``2026-03-14``. ``bad``: how many were bad, ``of`` how many.
    ``box``: the box, plate or impression it was made in, as the shop calls it.
    """

    pattern: str = ""
    date: str = ""
    heat: str = ""
    bad: int | None = None
    of: int | None = None
    moulder: str = ""
    core_maker: str = ""
    box: str = ""

    def with_entry(self, name: str, text: str) -> Ticket:
        """Return the ticket with one entry told anew; an empty text means not known.

        ``name``: one of ``ENTRIES``. Raises Fault where the text cannot be such an entry.
        """
        text = one_line(text)
        if name == "bad":
            bad, of = _count(text) if text else (None, None)
            return replace(self, bad=bad, of=of)
        if len(text) > LONGEST:
            raise Fault(f"“{text[:20]}...” has {len(text)} characters. Write at most {LONGEST}.")
        told: dict[str, Any] = {name: day_of(text) if name == "date" and text else text}
        return replace(self, **told)

    def entry(self, name: str) -> str:
        """Return an entry as it is written; empty where it is not known.

        >>> Ticket(bad=6, of=40).entry("bad"), Ticket(heat="99").entry("heat")
        ('6 of 40', '99')
        """
        if name != "bad":
            return str(getattr(self, name))
        if self.bad is None:
            return ""
        return f"{self.bad}" if self.of is None else f"{self.bad} of {self.of}"

    @property
    def known(self) -> bool:
        """Whether it says anything."""
        return any(getattr(self, one.name) not in ("", None) for one in fields(self))


ENTRIES = {
    "pattern": "Pattern",
    "date": "Poured on",
    "heat": "Heat",
    "bad": "Bad",
    "moulder": "Moulder",
    "core_maker": "Core maker",
    "box": "Box or plate",
}
"""The entries of a ticket in the order in which they are told, with their labels."""

HINTS = {
    "pattern": "The number or name of the pattern.",
    "date": "The day on which it was poured, such as 2026-03-14.",
    "heat": "The number of the heat or charge.",
    "bad": "How many were bad of how many, such as 6 of 40.",
    "moulder": "Who made the mould, or the gang or machine.",
    "core_maker": "Who made the core.",
    "box": "The box, plate or impression that it came from, as you call it.",
}


def day_of(text: str) -> str:
    """Return a day as year, month and day; raise Fault where it is none or could be two.

    >>> day_of("14.3.2026"), day_of("14 March 2026"), day_of("2026-3-4")
    ('2026-03-14', '2026-03-14', '2026-03-04')
    """
    for form, order in _FORMS:
        if found := form.fullmatch(text.strip()):
            return _made(text, *order(*found.groups()))
    raise Fault(f"“{text}” cannot be read as a day. {_DAY_EXAMPLE}")


def _by_slashes(first: str, second: str, year: str) -> tuple[str, str, str]:
    """Return year, month and day of one written with slashes, in the only order it can have."""
    if int(first) <= 12 and int(second) <= 12 and first != second:
        raise Fault(f"“{first}/{second}/{year}” could be two days. {_DAY_EXAMPLE}")
    day, month = (first, second) if int(first) > 12 else (second, first)
    return year, month, day


def _month(name: str) -> str:
    """Return the number of a month by its name; an impossible one where there is none."""
    begun = name.lower()[:3]
    return str(_MONTHS.index(begun) + 1) if begun in _MONTHS else "13"


_FORMS: tuple[tuple[re.Pattern[str], Callable[..., tuple[str, str, str]]], ...] = (
    (re.compile(r"(\d{4})[-./](\d{1,2})[-./](\d{1,2})"), lambda y, m, d: (y, m, d)),
    (re.compile(r"(\d{1,2})[.-](\d{1,2})[.-](\d{4})"), lambda d, m, y: (y, m, d)),
    (re.compile(r"(\d{1,2})/(\d{1,2})/(\d{4})"), _by_slashes),
    (re.compile(r"(\d{1,2})\.? ([A-Za-z]{3,9})\.?,? (\d{4})"), lambda d, m, y: (y, _month(m), d)),
)


def _made(text: str, year: str, month: str, day: str) -> str:
    try:
        made = date(int(year), int(month), int(day))
    except ValueError:
        raise Fault(f"“{text}” is no day of any calendar. {_DAY_EXAMPLE}") from None
    if not EARLIEST <= made.year <= LATEST:
        raise Fault(f"“{text}” is no day on which this was poured. Is the year right?")
    return made.isoformat()


def _count(text: str) -> tuple[int, int | None]:
    """Return how many were bad, and of how many if that is said."""
    found = _COUNT.fullmatch(text.lower())
    if found is None:
        raise Fault(f"“{text}” does not say how many were bad. Write it like this: 6 of 40.")
    bad, of = int(found[1]), int(found[2]) if found[2] else None
    if bad < 1:
        raise Fault("At least one casting was bad, or there is nothing to work. Write 1 of 40.")
    if of is not None and bad > of:
        raise Fault(f"{bad} bad of {of} cannot be. Write the bad ones first: {of} of {bad}.")
    if max(bad, of or 0) > MOST_CASTINGS:
        raise Fault(f"No lot has more than {MOST_CASTINGS} castings. Write it like this: 6 of 40.")
    return bad, of
