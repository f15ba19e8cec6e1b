"""An action and a window that name different limits for one quantity.

Passes: an action against long waits that says "no longer than 4 min", where the window of the time
from tap to mould ends at 4 min for some job.
Fails:  the same action with "under 3 minutes". A limit is a figure after words such as "under",
"at most" or "at least"; a figure for a step or a range is none. It is held against the windows of
the readings that speak for what the action cures: where the same words name the reading, or where
no other of them has its unit and that unit is no per cent and no length.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from diagnose.basics.errors import Problem
from diagnose.rulebase.book import Action, Book, Measurement
from diagnose.rulebase.draft import Draft

_MOST = "under|below|at most|up to|no more than|not over|never over|never above|no longer than"
_LEAST = "over|above|at least|no less than|not under|not below|never under|more than"
_SPELT = {
    "min": "min(?:utes?)?", "h": "h(?:ours?)?", "s": "s(?:econds?)?", "B": "(?:B|on the B scale)",
    "degC": "degC", "mm": "mm", "%": "%", "g/cm3": "g/cm3", "kN/m2": "kN/m2", "bar": "bar",
}  # fmt: skip
_LIMIT = {
    unit: re.compile(
        rf"\b(?:(?P<most>{_MOST})|(?P<least>{_LEAST})) (?:about |some )?(?P<figure>\d+(?:\.\d+)?)"
        rf" ?{spelt}(?![\w/])",
        re.IGNORECASE,
    )
    for unit, spelt in _SPELT.items()
}
_CLAUSE = re.compile(r"(?<=[.;:,])\s+")
COMMON_UNITS = ("%", "mm")
"""Units that too many things are measured in to tell of which one is spoken."""
SHORTEST = 3
"""Letters of a name that is looked for; a shorter one (C, Mn) stands in too many words."""


@dataclass(frozen=True, slots=True)
class _Limit:
    said: str
    figure: float
    side: str


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every limit in an action that is the end of no window."""
    for name, action in draft.book.actions.items():
        for key in ("what", "how_much"):
            for clause in _CLAUSE.split(getattr(action, key)):
                yield from _against_windows(draft, name, key, clause)


def _against_windows(draft: Draft, name: str, key: str, clause: str) -> Iterator[Problem]:
    book = draft.book
    for entry in _spoken_of(book, book.actions[name], clause):
        reading = book.measurements[entry]
        for limit in _limits(clause, reading.unit):
            ends = sorted({e for w in reading.windows if (e := getattr(w, limit.side)) is not None})
            if ends and limit.figure not in ends:
                what = (
                    f"{name!r} says {limit.said!r}, but the window of {entry!r} ends at "
                    f"{', '.join(f'{end:g}' for end in ends)} {reading.unit}."
                )
                steps = ("actions", name, key.replace("_", " "))
                yield draft.problem(steps, what, "Make the two one figure.", key=True)


def _spoken_of(book: Book, action: Action, clause: str) -> Iterator[str]:
    """Yield the readings that a clause may speak of, of those that tell of what is cured."""
    telling = [
        name
        for name, reading in book.measurements.items()
        if {*action.cures} & {*reading.low_speaks_for, *reading.high_speaks_for}
    ]
    units = [book.measurements[name].unit for name in telling]
    for name in telling:
        reading = book.measurements[name]
        alone = reading.unit not in COMMON_UNITS and units.count(reading.unit) == 1
        if alone or _named(reading, clause):
            yield name


def _named(reading: Measurement, clause: str) -> bool:
    names = [name for name in (reading.name, *reading.also) if len(name) >= SHORTEST]
    return any(re.search(rf"\b{re.escape(name)}\b", clause, re.IGNORECASE) for name in names)


def _limits(clause: str, unit: str) -> Iterator[_Limit]:
    if unit in _LIMIT:
        for found in _LIMIT[unit].finditer(clause):
            side = "high" if found["most"] else "low"
            yield _Limit(found.group(), float(found["figure"]), side)
