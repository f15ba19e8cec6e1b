"""Bands of a reading taken on the casting that tell nothing, or not one thing.

Passes: ``bands: {poor: {..., between: [null, 0.7 low]}, fair: {..., between: [0.7 low, low]},
good: {..., between: [low, null]}}`` beside a window with a low end.
Fails:  a single band, or more than nine; an end that is neither a number nor a part of the window's
low or high; bands that do not follow on each other from low to high; bands that hang on an end that
no window has; bands beside a ``speaks for``, which would count the reading twice; a ``shows`` or a
``same sight as`` on a reading without bands.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import inf

from diagnose.basics.errors import Problem
from diagnose.rulebase.bands import edge, written
from diagnose.rulebase.book import End, Measurement
from diagnose.rulebase.checks.answer_count import MOST
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.references import shows_tables
from diagnose.rulebase.yamlread import Steps


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every band, or use of one, that cannot be meant."""
    measurements = draft.book.measurements
    for name, reading in measurements.items():
        at: Steps = ("measurements", name)
        if reading.bands:
            yield from _bands(draft, at, reading)
        elif reading.same_sight:
            what = "A reading without bands is no sight."
            instead = "Give it bands, or take out 'same sight as'."
            yield draft.problem((*at, "same sight as"), what, instead, key=True)
    for steps, look, _ in shows_tables(draft.book):
        if look in measurements and not measurements[look].bands:
            what = f"The reading {look!r} has no bands to be shown."
            yield draft.problem(steps, what, "Give it bands, or name a look.", key=True)


def _bands(draft: Draft, at: Steps, reading: Measurement) -> Iterator[Problem]:
    here = (*at, "bands")
    if not 2 <= len(reading.bands) <= MOST:
        what = f"A reading needs 2 to {MOST} bands, and this one has {len(reading.bands)}."
        yield draft.problem(here, what, "Split them, join them, or leave them out.", key=True)
    if reading.low_speaks_for or reading.high_speaks_for:
        what = "A reading on the casting speaks for what shows it, and for no condition besides."
        instead = "Take out 'low speaks for' and 'high speaks for', or the bands."
        yield draft.problem(here, what, instead, key=True)
    wrong = [*_ends(draft, here, reading)]
    yield from wrong or _order(draft, here, reading)


def _ends(draft: Draft, here: Steps, reading: Measurement) -> Iterator[Problem]:
    for name, band in reading.bands.items():
        for number, end in enumerate(band.between):
            steps = (*here, name, "between", number)
            side = _side(end)
            if side == "":
                what = f"{end!r} is no end of a band."
                instead = "Write a number, nothing, low, high, or a part of one: 0.85 low."
                yield draft.problem(steps, what, instead)
            elif side and all(getattr(window, side) is None for window in reading.windows):
                what = f"No window of this reading has a {side}."
                yield draft.problem(steps, what, "Give a window one, or write a number.")


def _side(end: End) -> str | None:
    """Return which end of the window a band hangs on; "" where what is written cannot be read."""
    try:
        part = written(end)
    except ValueError:
        return ""
    return None if part is None else part[1]


def _order(draft: Draft, here: Steps, reading: Measurement) -> Iterator[Problem]:
    """Yield a problem for every band that does not begin where the one before it ends."""
    for window in reading.windows:
        limits = [
            (name, edge(band.between[0], window, -inf), edge(band.between[1], window, inf))
            for name, band in reading.bands.items()
        ]
        for (_, _, ended), (name, low, _) in pairwise(limits):
            if ended != low:
                what = f"The band begins at {low:g}, and the one before it ends at {ended:g}."
                instead = "Let the bands follow on each other, from low to high."
                yield draft.problem((*here, name, "between"), what, instead, key=True)
                return
        if any(low > high for _, low, high in limits):
            what = f"A band of the window from {window.low} to {window.high} ends below its start."
            yield draft.problem(here, what, "Change the parts of its ends.", key=True)
            return
