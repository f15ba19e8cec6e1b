"""Take the readings of a sheet down for a reject, without losing any that it has."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from diagnose.reasoning.taking import measurement_found
from diagnose.reject.found import Found, Measured
from diagnose.session.session import Session
from diagnose.sheets.reading import Sheet
from diagnose.sheets.readings import Taken

LONG = 300
"""Minutes from which a length of time is written in hours."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of the readings.

    ``added``: taken down. ``same``: stood there already. ``kept``: what the reject said before and
    still says, with what the sheet says.
    """

    added: tuple[Measured, ...] = ()
    same: tuple[Measured, ...] = ()
    kept: tuple[tuple[Found, Measured], ...] = ()


def found_on(sheet: Sheet) -> list[Measured]:
    """Return one finding for each measurement, with all its readings."""
    return [
        measurement_found(sheet.names.book, means, _text(sheet.taken, means))
        for means in dict.fromkeys(taken.means for taken in sheet.taken)
    ]


def _text(taken: Sequence[Taken], means: str) -> str:
    """Return the readings of a measurement as a person would write them down.

    Behind them stands the age of the sample where it is known: that of the one farthest from the
    pouring, before or after, as the finding has only one age.
    """
    own = [one for one in taken if one.means == means]
    if len({one.unit for one in own}) > 1:
        text = "; ".join(one.text for one in own)
    else:
        text = f"{'; '.join(f'{one.value:.12g}' for one in own)} {own[0].unit}"
    away = max((one.away for one in own if one.away is not None), default=None)
    return f"{text} ({_length(away)} old)" if away else text


def _length(away: timedelta) -> str:
    """Return a length of time with its unit.

    >>> _length(timedelta(minutes=130)), _length(timedelta(days=1))
    ('130 min', '24 h')
    """
    minutes = round(away.total_seconds() / 60)
    return f"{minutes} min" if minutes < LONG else f"{round(minutes / 60, 1):g} h"


def take_down(session: Session, found: Sequence[Measured], *, over: bool = False) -> Outcome:
    """Take findings down; ``over`` puts them over readings that the reject has already."""
    added: list[Measured] = []
    same: list[Measured] = []
    kept: list[tuple[Found, Measured]] = []
    for one in found:
        before = session.reject.about(one.id)
        if before is not None and _alike(before, one):
            same.append(one)
        elif before is not None and not over:
            kept.append((before, one))
        else:
            session.add(one)
            added.append(one)
    return Outcome(tuple(added), tuple(same), tuple(kept))


def _alike(before: Found, one: Measured) -> bool:
    return isinstance(before, Measured) and (before.readings, before.age) == (one.readings, one.age)


def outcome_in_words(session: Session, outcome: Outcome) -> list[str]:
    """Return what became of the readings, a line for each."""
    names = session.book.measurements
    lines = [f"Taken down: {names[one.id].name}, {one.said}." for one in outcome.added]
    lines += [f"Stood there already: {names[one.id].name}, {one.said}." for one in outcome.same]
    for before, one in outcome.kept:
        had = before.said or "not sure"
        if isinstance(before, Measured) and not before.said:
            had = ", ".join(f"{value:g}" for value in before.readings)
        lines.append(f"Left as it is: {names[one.id].name}, {had}; the sheet says {one.said}.")
    return lines
