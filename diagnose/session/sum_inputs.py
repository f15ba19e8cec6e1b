"""What the sums can take over from the readings of a reject."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.quantity import UNITS, unit_named
from diagnose.reasoning.derived import turned
from diagnose.reasoning.readings import Reading
from diagnose.rulebase.book import Book
from diagnose.session.session import Session
from diagnose.shop.calculation import Calculation, Input, figure


def offered(session: Session, calculation: Calculation) -> dict[str, str]:
    """Return input -> its figure with the unit, for what a reading of the reject gives.

    A reading goes where the sum says that it answers an input, and only if its unit fits and the
    sum holds there. What has a usual figure of its own keeps that.

    >>> from diagnose.session.session import open_session
    >>> from diagnose.shop.work import named
    >>> session = open_session()
    >>> taken = session.measure("moulding sand moisture", "4.6 %")
    >>> offered(session, named("water-addition"))
    {'moisture': '4.6 %'}
    """
    by_id = {reading.id: reading for reading in session.readings()}
    found = {}
    for wanted in calculation.inputs:
        if wanted.table or wanted.choices or wanted.default:
            continue
        for measurement in _asked_for(session.book, calculation, wanted):
            if measurement in by_id and (text := _in_unit_of(wanted, by_id[measurement])):
                found[wanted.name] = text
    return found


def _asked_for(book: Book, calculation: Calculation, wanted: Input) -> Iterator[str]:
    """Yield the measurements that an input asks for."""
    for entry, measurement in book.measurements.items():
        if wanted.reading in (measurement.name, *measurement.also):
            yield entry
        rule = measurement.worked_out
        if rule is not None and rule.by == calculation.name and wanted.name in rule.takes:
            yield rule.takes[wanted.name]


def _in_unit_of(wanted: Input, reading: Reading) -> str:
    """Return the mean of a reading in the unit of an input; nothing where it does not fit."""
    unit = unit_named(wanted.unit) or wanted.unit
    kinds = [UNITS[one].kind if one in UNITS else one for one in (unit, reading.unit)]
    if kinds[0] != kinds[1]:
        return ""
    value = turned(sum(reading.values) / len(reading.values), reading.unit, unit)
    return "" if [*wanted.problems(value)] else f"{figure(value)} {wanted.unit}".rstrip()
