"""A root condition that nobody could confirm: no check reveals it, no measurement speaks for it.

Passes: ``core-unvented``, which the check ``core-vent-open`` reveals.
Fails:  a condition with a base rate that no ``reveals``, ``low speaks for`` or ``high speaks for``
names.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every such condition."""
    shown = {name for entry in draft.book.checks.values() for name in entry.reveals}
    for reading in draft.book.measurements.values():
        shown |= reading.low_speaks_for.keys() | reading.high_speaks_for.keys()
    for name, condition in draft.book.conditions.items():
        if condition.base_rate is not None and name not in shown:
            what = f"Nothing in the shop could confirm {name!r}."
            instead = "Write a check that reveals it, or a measurement that speaks for it."
            yield draft.problem(("conditions", name), what, instead, key=True)
