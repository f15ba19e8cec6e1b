"""Work the sums of the rule base with the readings of a reject, their errors carried through."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

from diagnose.basics.quantity import UNITS, convert
from diagnose.rulebase.book import Amount, Book, Measurement, Sum, Window
from diagnose.shop.calculation import Calculation, OutOfRange, Value, Worked


@dataclass(frozen=True, slots=True)
class Known:
    """A quantity in its measurement's own unit, and the standard deviation of its error."""

    value: float
    error: float


def mean_of(measurement: Measurement, readings: tuple[float, ...]) -> Known:
    """Return the mean of repeated readings and its error."""
    count = len(readings)
    return Known(sum(readings) / count, measurement.repeatability / sqrt(count))


def aim(window: Window | None, end: str = "") -> float | None:
    """Return what a window aims at: its middle, or its only end; None where there is none.

    ``end``: ``low`` or ``high`` for that end of it.
    """
    if end:
        value = None if window is None else getattr(window, end)
        return None if value is None else float(value)
    ends = [] if window is None else [e for e in (window.low, window.high) if e is not None]
    return sum(ends) / len(ends) if ends else None


def work_sum(
    book: Book, wanted: Sum | Amount, known: Mapping[str, Known], aims: Mapping[str, float | None]
) -> tuple[Worked, float] | None:
    """Return the sum worked and its error, or None where a reading or an aim is lacking.

    ``aims``: input -> what it aims at, in the unit of its measurement.

    The error is carried through by moving each reading by its own error either way
    (JCGM 100:2008, "Guide to the expression of uncertainty in measurement", from memory).
    Readings for which the sum does not hold give None as well.
    """
    from diagnose.shop.catalogue import calculations

    calculation = calculations()[wanted.by]
    units = {each.name: each.unit for each in calculation.inputs}
    needed = {each.name for each in calculation.inputs if each.default is None}
    values: dict[str, Value] = dict(wanted.given)
    for name, measurement in wanted.takes.items():
        if measurement in known:
            unit = book.measurements[measurement].unit
            values[name] = turned(known[measurement].value, unit, units[name])
    for name, measurement in wanted.aims.items():
        goal = aims.get(name)
        if goal is not None:
            values[name] = turned(goal, book.measurements[measurement].unit, units[name])
    if not needed <= values.keys():
        return None
    moved = [
        _moved(book, calculation, values, name, known[measurement], measurement)
        for name, measurement in wanted.takes.items()
        if measurement in known
    ]
    try:
        return calculation.run(**values), sqrt(sum(change * change for change in moved))
    except OutOfRange:
        return None


def _moved(
    book: Book,
    calculation: Calculation,
    values: Mapping[str, Value],
    name: str,
    known: Known,
    measurement: str,
) -> float:
    """Return half the change of the result when one reading moves by its error either way."""
    unit = book.measurements[measurement].unit
    wanted = next(each.unit for each in calculation.inputs if each.name == name)
    results = []
    for sign in (-1.0, 1.0):
        there = turned(known.value + sign * known.error, unit, wanted)
        try:
            results.append(calculation.run(**{**values, name: there}).value)
        except OutOfRange:
            return 0.0
    return (results[1] - results[0]) / 2.0


def turned(value: float, unit: str, wanted: str) -> float:
    """Turn a value into another unit where the two differ."""
    return convert(value, unit, wanted) if unit in UNITS and wanted in UNITS else value
