"""The conditions hang together so closely that exact sums over them would take too long.

Passes: a network in which no more than 16 conditions have to be summed over at once.
Fails:  a larger one. The cure is to join conditions that the shop never tells apart, or to let
many causes act through one mechanism instead of each on each.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.graph import WIDEST_LINK, cycles, largest_clique

LARGEST = 16


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every link that needs too much, else one if the clique is too large."""
    wide = False
    for name, condition in draft.book.conditions.items():
        for number, link in enumerate(condition.leads_to):
            if len(link.needs) >= WIDEST_LINK:
                wide = True
                what = f"This link needs {len(link.needs)} other conditions at once."
                instead = f"Leave at most {WIDEST_LINK - 1}."
                yield draft.problem(("conditions", name, "leads to", number), what, instead)
    if wide or cycles(draft.book):
        return
    clique = largest_clique(draft.book)
    if len(clique) > LARGEST:
        names = [name for name in draft.book.conditions if name in clique]
        what = f"{len(clique)} conditions have to be weighed at once: {', '.join(names)}."
        instead = f"Let causes act through a common mechanism; at most {LARGEST} are feasible."
        yield draft.problem(("conditions", names[0]), what, instead, key=True)
