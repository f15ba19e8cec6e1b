"""The same link stands twice: the second would add to the first without anybody's noticing.

Passes: two links to the same defect with different ``needs``, or for different metals.
Fails:  two links of one condition to the same target with the same ``needs`` and ``scope``.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every repeated link."""
    for name, condition in draft.book.conditions.items():
        seen = []
        for number, link in enumerate(condition.leads_to):
            same = (link.to, set(link.needs), link.scope)
            if same in seen:
                what = f"{name!r} leads to {link.to!r} twice."
                steps = ("conditions", name, "leads to", number, "to")
                yield draft.problem(steps, what, "Keep one of the two.")
            seen.append(same)
