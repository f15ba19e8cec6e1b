"""Look-alikes that nothing tells apart, or that are declared on one side only.

Passes: a pinhole and a blow that name each other, and ``cavity-size`` shows ``under-3mm`` usually
for the one and hardly ever for the other.
Fails:  no look on which the two differ: the figures of some answer should differ by a factor of
three or more. Tables of the conditions that bring the defects about do not count: the look must
tell the defects apart whatever their cause.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.book import Figure
from diagnose.rulebase.draft import Draft

FACTOR = 3.0


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every pair that cannot be told apart or is one-sided."""
    defects = draft.book.defects
    for name, defect in defects.items():
        for number, other in enumerate(defect.look_alikes):
            steps = ("defects", name, "look alikes", number)
            if other == name:
                yield draft.problem(steps, "A defect cannot be taken for itself.", "Delete it.")
            elif other in defects:
                if name not in defects[other].look_alikes:
                    what = f"{other!r} does not name {name!r} in return."
                    yield draft.problem(steps, what, f"Add it to the look alikes of {other!r}.")
                if not any(_tells_apart(draft, look, name, other) for look in draft.book.seen()):
                    what = f"No look tells {name!r} from {other!r}."
                    instead = "Give both a table for a look on which they differ by 3 times."
                    yield draft.problem(steps, what, instead)


def _tells_apart(draft: Draft, look: str, one: str, other: str) -> bool:
    tables = [
        spread_table(draft, look, draft.book.defects[name].shows.get(look, {}))
        for name in (one, other)
    ]
    return any(
        max(a, b) > 0 and max(a, b) >= FACTOR * min(a, b)
        for a, b in ((tables[0][answer], tables[1][answer]) for answer in tables[0])
    )


def spread_table(draft: Draft, look: str, table: dict[str, Figure]) -> dict[str, float]:
    """Return the share of every answer; those not listed share what is left as is usual."""
    answers = draft.book.answers_of(look)
    usual = {name: draft.figure(answer.usual) or 0.0 for name, answer in answers.items()}
    listed = {name: draft.figure(value) or 0.0 for name, value in table.items() if name in usual}
    left = max(0.0, 1.0 - sum(listed.values()))
    unlisted = sum(value for name, value in usual.items() if name not in listed) or 1.0
    return {
        name: listed[name] if name in listed else left * value / unlisted
        for name, value in usual.items()
    }
