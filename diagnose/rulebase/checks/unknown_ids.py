"""An entry names another that is not in the book.

Passes: ``cures: [sand-too-wet]`` where the conditions hold ``sand-too-wet``.
Fails:  ``cures: [sand-to-wet]``.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.references import references

_CALLED = {
    "areas": "area",
    "cautions": "caution",
    "conditions": "condition",
    "defects": "defect",
    "looks": "look",
    "measurements": "measurement",
    "sources": "source",
}


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every name without an entry."""
    known = {section: draft.ids(section) for section in _CALLED}
    for reference in references(draft.book):
        choices = {name for section in reference.sections for name in known[section]}
        if reference.name in choices:
            continue
        kind = " or ".join(_CALLED[section] for section in reference.sections)
        what = f"No {kind} is called {reference.name!r}."
        instead = did_you_mean(reference.name, choices, kind)
        yield draft.problem(reference.steps, what, instead, key=reference.key)
