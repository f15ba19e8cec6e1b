"""Which correction puts a cause right, and which causes share theirs."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from diagnose.engine.cliquetree import Ints
from diagnose.reasoning.setup import Desk
from diagnose.rulebase.book import Action, Book
from diagnose.rulebase.job import Job


def actions_for(book: Book, path: Sequence[str], job: Job) -> list[Action]:
    """Return the actions that cure a cause, the one that is most about it first.

    Where none cures the cause itself, those for the first condition on its way to the fault that
    one can cure.
    """
    for name in path:
        cures = [a for a in book.actions.values() if name in a.cures and job.holds_for(a.scope)]
        if cures:
            return sorted(cures, key=lambda action: (len(action.cures), action.cures.index(name)))
    return []


def first_actions(desk: Desk) -> dict[str, str]:
    """Return condition -> id of the action that is most about it, where one can cure it."""
    book, best = desk.book, dict[str, tuple[int, int, str]]()
    for name, action in book.actions.items():
        if desk.job.holds_for(action.scope):
            for place, cured in enumerate(action.cures):
                rank = (len(action.cures), place, name)
                if cured not in best or rank[:2] < best[cured][:2]:
                    best[cured] = rank
    return {cured: rank[2] for cured, rank in best.items()}


def correction_of_account(desk: Desk, actions: Sequence[str]) -> Ints:
    """Return the place in ``actions`` of what puts each account right; -1 where nothing does.

    "None of these" comes last.
    """
    number = {name: k for k, name in enumerate(actions)}
    cured = first_actions(desk)
    of_condition = np.array([number.get(cured.get(c, ""), -1) for c in desk.conditions] + [-1])
    along = of_condition[desk.accounts.paths]  # what fills up a path is -1: the last one
    first = np.argmax(along >= 0, axis=1)
    found = along[np.arange(len(along)), first]
    return np.append(found, -1).astype(np.intp)
