"""What speaks for and against a cause of a batch, in decibans and in words.

A clue of a group moves the odds of the cause being responsible for that group, all else being
kept: exact, as the group's posterior without the clue is its posterior over what the clue says. A
finding of the shop is taken out in the same way, with the other groups held at their likeliest
accounts. That other groups point to the cause as well counts as a reason of its own: how the odds
in the group change when it no longer stands alone.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from diagnose.batch.causes.case import Case
from diagnose.batch.result import Reason
from diagnose.engine.cliquetree import Floats
from diagnose.reasoning.reasons import entry_title, found_text
from diagnose.reject.found import CHECK, MEASUREMENT

CLEAR = 1.0
"""Decibans from which something is worth saying."""
MOST_REASONS = 8
MINE = 0.25
"""Groups that speak on a cause: the one it explains most of, and those in which it has this."""


def reasons(case: Case, root: int) -> tuple[Reason, ...]:
    """Return what speaks for and against a root condition, the strongest first."""
    main = case.main_group(root)
    groups = [g for g in range(len(case.groups)) if g == main or case.responsible[g, root] >= MINE]
    found: list[Reason] = []
    for g in groups:
        found += _of_clues(case, g, root, several=len(case.groups) > 1)
        found += _of_others(case, g, root)
    found += _of_shop(case, main, root)
    told = [reason for reason in found if abs(reason.weight) >= CLEAR]
    return tuple(sorted(told, key=lambda reason: -abs(reason.weight))[:MOST_REASONS])


def _of_clues(case: Case, group: int, root: int, *, several: bool) -> Iterator[Reason]:
    now = case.accounts[group]
    name = f"{case.groups[group].name}: " if several else ""
    for clue in case.clues[group]:
        shift = _shift(case, now, without(now, clue.logs), root)
        yield Reason(f"{name}{clue.text}", shift)


def without(now: Floats, logs: Floats) -> Floats:
    """Return probabilities of accounts as they were before what had these log likelihoods.

    >>> without(np.array([0.75, 0.25]), np.log(np.array([3.0, 1.0]))).tolist()
    [0.5, 0.5]
    """
    weights = now * np.exp(logs.min() - logs)
    return np.asarray(weights / weights.sum())


def _shift(case: Case, now: Floats, before: Floats, root: int) -> float:
    mine = case.desk.model.root_of_account == root
    return odds_shift(float(now[mine].sum()), float(before[mine].sum()))


def _of_others(case: Case, group: int, root: int) -> Iterator[Reason]:
    if len(case.groups) < 2:
        return
    shift = _shift(case, case.accounts[group], case.alone[group], root)
    way = "point to it as well" if shift > 0.0 else "have other causes"
    name = case.groups[group].name
    yield Reason(f"{name}: the other groups {way}", shift)


def _of_shop(case: Case, group: int, root: int) -> Iterator[Reason]:
    """Yield what each finding of the shop says, the other groups held at their likeliest."""
    names = {number: name for name, number in case.desk.findings.items()}
    now = case.accounts[group]
    for number, logs in case.shop_logs(group).items():
        shift = _shift(case, now, without(now, logs), root)
        yield Reason(_told(case, names[number]), shift)


def _told(case: Case, name: str) -> str:
    known = next((f for f in case.shop.found if f.id == name), None)
    if known is not None and known.kind in (CHECK, MEASUREMENT):
        return found_text(case.desk, known)
    return f"{entry_title(case.desk, name)} (from readings or remarks)"


def odds_shift(now: float, before: float) -> float:
    """Return by how many decibans the odds went from ``before`` to ``now``."""
    smallest = 1e-12
    held = [min(max(p, smallest), 1.0 - smallest) for p in (now, before)]
    logs = [np.log10(p / (1.0 - p)) for p in held]
    return float(10.0 * (logs[0] - logs[1]))
