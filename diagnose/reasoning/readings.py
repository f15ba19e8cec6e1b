"""The readings of a reject, each held against its window, and what follows from them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import sqrt

from diagnose.engine.findings import bands
from diagnose.reasoning.derived import mean_of, turned, work_sum
from diagnose.reasoning.setup import Desk
from diagnose.reasoning.sighted import shown_by
from diagnose.reject.found import MEASUREMENT, Measured
from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Measurement, Window

OWN = "the shop's own"
"""With this begins the source of a window that the shop set itself."""
CLEARLY = 0.8
"""Chance from which a reading is called below or above its window, without "probably"."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A measurement held against its window.

    ``low`` and ``high``: the window, None where it is open or where there is none. ``chances``:
    of the true value lying below, within, above it. ``speaks_for``: names of the conditions on
    the side on which it probably lies. ``working``: how it follows from other readings; empty
    for one that was measured. ``replaces``: readings that are in it and say nothing besides.
    ``fresh``: the share of its say that is left after the age of the sample. ``error``: standard
    deviation of the mean of ``values``.
    """

    id: str
    name: str
    values: tuple[float, ...]
    unit: str
    low: float | None
    high: float | None
    chances: tuple[float, float, float]
    words: str
    speaks_for: tuple[str, ...]
    working: tuple[str, ...] = ()
    replaces: tuple[str, ...] = ()
    fresh: float = 1.0
    error: float = 0.0


def readings_of(desk: Desk, reject: Reject) -> list[Reading]:
    """Return every reading of a reject against its window, then what follows from them."""
    measured = [found for found in reject.found if found.kind == MEASUREMENT]
    return [*(reading_of(desk, found) for found in measured), *_worked_out(desk, measured)]


def _worked_out(desk: Desk, measured: Sequence[Measured]) -> Iterator[Reading]:
    """Yield the quantities that follow from what was measured and were not measured themselves."""
    book = desk.book
    known = {f.id: mean_of(book.measurements[f.id], f.readings) for f in measured}
    fresh = {f.id: fresh_share(book.measurements[f.id], f.age) for f in measured}
    for name, measurement in book.measurements.items():
        wanted = measurement.worked_out
        if wanted is None or name in known or not known.keys() & set(wanted.takes.values()):
            continue
        result = work_sum(book, wanted, known, {})
        if result is not None:
            worked, error = result
            value = turned(worked.value, worked.unit, measurement.unit)
            error = abs(turned(worked.value + error, worked.unit, measurement.unit) - value)
            reading = _against_window(desk, name, (value,), error)
            yield replace(
                reading,
                working=tuple(worked.working),
                replaces=wanted.replaces,
                fresh=min(fresh[taken] for taken in wanted.takes.values() if taken in fresh),
            )


def fresh_share(measurement: Measurement, age: float) -> float:
    """Return how much of its say a reading has left when its sample is ``age`` hours old."""
    return 1.0 if measurement.keeps is None else 0.5 ** (age / measurement.keeps)


def reading_of(desk: Desk, found: Measured) -> Reading:
    """Hold a measurement against the window that this job calls for."""
    measurement = desk.book.measurements[found.id]
    reading = _against_window(desk, found.id, found.readings, measurement.repeatability)
    fresh = fresh_share(measurement, found.age)
    if fresh == 1.0:
        return reading
    words = f"{reading.words}; {found.age:g} h old, so it counts {fresh:.0%} of a fresh one"
    return replace(reading, words=words, fresh=fresh)


def _against_window(desk: Desk, name: str, values: tuple[float, ...], error: float) -> Reading:
    measurement = desk.book.measurements[name]
    window = desk.window(measurement)
    low, high = (None, None) if window is None else (window.low, window.high)
    chances = bands(values, low, high, error)
    return Reading(
        name,
        measurement.name,
        values,
        measurement.unit,
        low,
        high,
        chances,
        _standing(chances, window),
        _speaks_for(desk, name, values, chances),
        error=error / sqrt(len(values)),
    )


def is_own(window: Window | None) -> bool:
    """Tell whether a window is one that the shop set itself, and not the book's."""
    return window is not None and any(source.startswith(OWN) for source in window.source)


def _standing(chances: tuple[float, float, float], window: Window | None) -> str:
    if window is None or (window.low is None and window.high is None):
        return "no window is known for this job"
    best = max(range(3), key=chances.__getitem__)
    side = ("below", "within", "above")[best]
    words = f"{side} {OWN if is_own(window) else 'its'} window"
    return words if chances[best] >= CLEARLY else f"probably {words}"


def _speaks_for(
    desk: Desk, name: str, values: tuple[float, ...], chances: tuple[float, float, float]
) -> tuple[str, ...]:
    """Return the names of the conditions, or of a reading on the casting the faults, it tells."""
    book, measurement = desk.book, desk.book.measurements[name]
    if name in desk.looks:
        return tuple(book.defects[one].name for one in shown_by(desk, name, values))
    best = max(range(3), key=chances.__getitem__)
    sides = (tuple(measurement.low_speaks_for), (), tuple(measurement.high_speaks_for))
    return tuple(book.conditions[name].name for name in sides[best])
