"""A defect that no root condition leads to: it could never be explained.

Passes: a defect with a link from a condition with a base rate, or from a mechanism that such a
condition leads to.
Fails:  a defect without any link to it, or only from mechanisms that nothing sets going.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.graph import live_links


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every defect out of reach."""
    onward: dict[str, list[str]] = {}
    for name, link in live_links(draft.book):
        onward.setdefault(name, []).append(link.to)
    waiting = [n for n, c in draft.book.conditions.items() if c.base_rate is not None]
    reached: set[str] = set()
    while waiting:
        name = waiting.pop()
        if name not in reached:
            reached.add(name)
            waiting.extend(onward.get(name, ()))
    for name in draft.book.defects:
        if name not in reached:
            what = f"No root condition leads to the defect {name!r}."
            yield draft.problem(("defects", name), what, "Add the links to it.", key=True)
