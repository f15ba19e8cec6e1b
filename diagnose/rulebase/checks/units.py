"""A measurement's unit is not one that the program knows.

Passes: ``unit: degC``.
Fails:  ``unit: celsius``.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.basics.quantity import UNITS, unit_named
from diagnose.rulebase.draft import Draft


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every unknown unit."""
    for name, reading in draft.book.measurements.items():
        if reading.unit not in UNITS:
            proper = unit_named(reading.unit)
            what = f"The unit {reading.unit!r} is not known."
            instead = f"Write {proper!r}." if proper else did_you_mean(reading.unit, UNITS, "unit")
            yield draft.problem(("measurements", name, "unit"), what, instead)
