"""A measurement's unit is not one that the program knows.

Passes: ``unit: degC``.
Fails:  ``unit: celsius``.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.errors import Problem
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.nearest import did_you_mean

UNITS = (
    "%", "degC", "degF", "K", "mm", "cm", "in", "m", "s", "min", "h", "kg", "g", "lb",
    "kPa", "kN/m2", "psi", "AFS", "GFN", "B", "sieves", "ratio", "cm3/g",
)  # fmt: skip


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every unknown unit."""
    for name, reading in draft.book.measurements.items():
        if reading.unit not in UNITS:
            what = f"The unit {reading.unit!r} is not known."
            instead = did_you_mean(reading.unit, UNITS, "unit")
            if instead.startswith("Check"):
                instead = f"Known are {', '.join(UNITS)}."
            yield draft.problem(("measurements", name, "unit"), what, instead)
