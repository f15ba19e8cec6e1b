"""A root condition that no action cures: the diagnosis would end without advice.

Passes: ``sand-too-wet`` where an action ``cures: [sand-too-wet]``.
Fails:  a condition with a base rate that no action names.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every root condition without an action."""
    cured = {name for action in draft.book.actions.values() for name in action.cures}
    for name, condition in draft.book.conditions.items():
        if condition.base_rate is not None and name not in cured:
            what = f"No action cures {name!r}."
            yield draft.problem(("conditions", name), what, "Write one.", key=True)
