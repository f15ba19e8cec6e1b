"""Looks wait for each other: none of them would ever be asked.

Passes: ``cavity-wall`` only if ``fault-form`` is ``hole``.
Fails:  ``fault-form`` only if ``cavity-wall`` is ``smooth`` as well.
"""

from __future__ import annotations

from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every circle of looks, at the last one's ``only if``."""
    looks = draft.book.looks
    waits = {name: [o for o in look.only_if if o in looks] for name, look in looks.items()}
    while True:
        try:
            TopologicalSorter(waits).prepare()
        except CycleError as error:
            circle = list(reversed(error.args[1]))  # the library lists what is waited for first
            route = " > ".join(circle)
            what = f"These looks wait for each other: {route}."
            yield draft.problem(
                ("looks", circle[0], "only if", circle[1]), what, "Free one of them.", key=True
            )
            waits[circle[0]].remove(circle[1])
        else:
            return
