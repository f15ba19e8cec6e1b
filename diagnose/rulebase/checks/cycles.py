"""Conditions bring about each other in a circle.

Passes: sand too wet > gas in the mould > blow.
Fails:  sand too wet > gas in the mould > sand too wet. A condition that a link ``needs`` counts
as one of its causes.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.graph import cycles


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every circle, at the link that closes it."""
    for circle in cycles(draft.book):
        route = " > ".join([*circle, circle[0]])
        instead = "Take out the link that does not hold in the shop."
        yield draft.problem(_closing_link(draft, circle), f"A circle: {route}.", instead)


def _closing_link(draft: Draft, circle: list[str]) -> tuple[str | int, ...]:
    """Return where the last condition of the circle leads back to the first."""
    last, first = circle[-1], circle[0]
    for number, link in enumerate(draft.book.conditions[last].leads_to):
        if link.to == first:
            return ("conditions", last, "leads to", number, "to")
    for name, condition in draft.book.conditions.items():
        for number, link in enumerate(condition.leads_to):
            if link.to == first and last in link.needs:
                return ("conditions", name, "leads to", number, "needs")
    return ("conditions", last)
