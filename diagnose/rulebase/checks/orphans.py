"""An entry that nothing reaches, or that leads nowhere.

Passes: a mechanism that some condition leads to, and that leads on.
Fails:  a mechanism that no link leads to; a condition that leads to nothing; a look that no
``shows`` and no ``only if`` uses; a caution that no action, check, measurement or area carries.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.references import SEEN, references


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every entry of no use."""
    if draft.faulty:
        return  # what cannot be read may be what uses them
    used: dict[str, set[str]] = {
        "links": set(),
        "looks": set(),
        "cautions": set(),
        "measurements": set(),
    }
    for reference in references(draft.book):
        if "defects" in reference.sections and "conditions" in reference.sections:
            used["links"].add(reference.name)
        elif reference.sections[0] in used:
            used[reference.sections[0]].add(reference.name)
            if reference.sections == SEEN:
                used["measurements"].add(reference.name)
    for name, condition in draft.book.conditions.items():
        steps = ("conditions", name)
        if condition.base_rate is None and name not in used["links"]:
            what = f"Nothing leads to the mechanism {name!r}."
            yield draft.problem(steps, what, "Link it, or give it a base rate.", key=True)
        if not condition.leads_to:
            what = f"{name!r} leads to nothing."
            yield draft.problem(steps, what, "Add 'leads to', or delete it.", key=True)
    for name in draft.book.looks.keys() - used["looks"]:
        what = f"No condition or defect says what it shows for the look {name!r}."
        yield draft.problem(("looks", name), what, "Add tables for it, or delete it.", key=True)
    for name in draft.book.seen():
        if name in draft.book.measurements and name not in used["measurements"]:
            what = f"No condition or defect says how often it shows the bands of {name!r}."
            instead = "Add tables for it, or delete them."
            yield draft.problem(("measurements", name, "bands"), what, instead, key=True)
    for name, caution in draft.book.cautions.items():
        if name not in used["cautions"] and not caution.areas:
            what = f"The caution {name!r} stands beside nothing."
            instead = "Name it in an action or check, or give it areas."
            yield draft.problem(("cautions", name), what, instead, key=True)
