"""A look is said to tell the same sight as itself, or as another look twice over.

Passes: ``same sight as: [stub-left]`` at the look ``gate-break``.
Fails:  ``same sight as: [gate-break]`` there, ``same sight as: [stub-left, stub-left]``, and a tie
written at both looks.

A tie holds both ways, so one of the two looks names the other; that a name is a look's is seen to
where unknown names are looked for.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every tie that says nothing."""
    book = draft.book
    for name in (*book.looks, *book.measurements):
        look = book.looks.get(name) or book.measurements[name]
        section = "looks" if name in book.looks else "measurements"
        for number, other in enumerate(look.same_sight):
            steps = (section, name, "same sight as", number)
            if other == name:
                yield draft.problem(steps, "A look tells its own sight anyway.", "Delete it.")
            elif other in look.same_sight[:number] or (other < name and _names(draft, other, name)):
                what = f"The tie to {other!r} is written twice."
                yield draft.problem(steps, what, "Keep it once; it holds both ways.")


def _names(draft: Draft, look: str, other: str) -> bool:
    entry = draft.book.looks.get(look) or draft.book.measurements.get(look)
    return entry is not None and other in entry.same_sight
