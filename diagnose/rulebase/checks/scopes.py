"""A scope names a metal or a process that is not in the book, or a section that is none.

Passes: ``scope: {metal: [grey iron], section: [null, 12]}``.
Fails:  ``scope: {metal: [grey]}``; ``section: [20, 10]``.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.references import scopes
from diagnose.rulebase.yamlread import Steps


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every unknown metal or process and every senseless section."""
    book = draft.book
    for steps, scope in scopes(book):
        yield from _names(draft, (*steps, "metal"), scope.metal, book.metals)
        yield from _names(draft, (*steps, "process"), scope.process, book.processes)
        low, high = scope.section or (None, None)
        if low is not None and high is not None and low >= high:
            what = f"A section from {low:g} to {high:g} mm is none."
            yield draft.problem((*steps, "section"), what, "Write [from, to] in mm.")


def _names(
    draft: Draft, steps: Steps, names: tuple[str, ...], known: dict[str, tuple[str, ...]]
) -> Iterator[Problem]:
    kind = str(steps[-1])
    for number, name in enumerate(names):
        if name not in known:
            proper = [one for one, others in known.items() if name in others]
            instead = f"Write {proper[0]!r}." if proper else did_you_mean(name, known, kind)
            yield draft.problem((*steps, number), f"No {kind} is called {name!r}.", instead)
