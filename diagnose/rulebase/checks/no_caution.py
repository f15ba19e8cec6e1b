"""Work in a hazardous area is advised without a caution beside it.

Passes: an action that cures a condition of the melt and has ``caution: [metal-and-damp]``.
Fails:  the same action without a caution; likewise a check that reveals, or a measurement that
speaks for, conditions of hazardous areas only. A caution that lists the area in its ``areas``
stands beside all actions of that area, but the author must still have thought of this one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every action, check and measurement that lacks a caution."""
    for name, action in draft.book.actions.items():
        if not action.caution and (areas := _hazardous(draft, action.cures)):
            yield _problem(draft, "actions", name, areas)
    for name, shop_check in draft.book.checks.items():
        if not shop_check.caution and (areas := _hazardous(draft, shop_check.reveals)):
            yield _problem(draft, "checks", name, areas)
    for name, reading in draft.book.measurements.items():
        about = [*reading.low_speaks_for, *reading.high_speaks_for]
        if not reading.caution and (areas := _hazardous(draft, about)):
            yield _problem(draft, "measurements", name, areas)


def _hazardous(draft: Draft, conditions: Iterable[str]) -> list[str]:
    """Return the hazardous areas of the conditions."""
    book = draft.book
    areas = {book.conditions[name].area for name in conditions if name in book.conditions}
    return sorted(area for area in areas if area in book.areas and book.areas[area].hazardous)


def _problem(draft: Draft, section: str, name: str, areas: list[str]) -> Problem:
    what = f"{name!r} sends somebody to work in a hazardous area ({', '.join(areas)})."
    instead = "Add 'caution' with the ids of what can hurt them there."
    return draft.problem((section, name), what, instead, key=True)
