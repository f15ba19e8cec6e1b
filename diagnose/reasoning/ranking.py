"""Causes, faults and causal paths by their probability."""

from __future__ import annotations

from dataclasses import dataclass

from diagnose.engine.cliquetree import Floats
from diagnose.engine.posterior import by_root
from diagnose.reasoning.asking import cause_name
from diagnose.reasoning.setup import NONE, Desk


@dataclass(frozen=True, slots=True)
class Cause:
    """A root condition and the probability that it is the one responsible."""

    id: str
    name: str
    area: str
    probability: float


@dataclass(frozen=True, slots=True)
class Share:
    """A defect and the probability that this is the fault."""

    id: str
    name: str
    probability: float


@dataclass(frozen=True, slots=True)
class AccountShare:
    """One causal path, the defect last, and the probability that it is the one responsible."""

    path: tuple[str, ...]
    probability: float


def causes(desk: Desk, probabilities: Floats) -> list[Cause]:
    """Return the root conditions by the probability of being responsible, best first."""
    area = {name: condition.area for name, condition in desk.book.conditions.items()} | {NONE: ""}
    found = [
        Cause(name, cause_name(desk, name), area[name], float(p))
        for name, p in zip(desk.roots, by_root(desk.model, probabilities), strict=True)
    ]
    return sorted(found, key=lambda cause: -cause.probability)


def defects(desk: Desk, probabilities: Floats) -> list[Share]:
    """Return the defects by probability; what is left belongs to "none of these"."""
    sums = dict.fromkeys(desk.book.defects, 0.0)
    for account, p in zip(desk.accounts, probabilities, strict=False):
        sums[account.defect] += float(p)
    found = [Share(name, desk.book.defects[name].name, p) for name, p in sums.items()]
    return sorted(found, key=lambda share: -share.probability)


def accounts(desk: Desk, probabilities: Floats, limit: int | None) -> list[AccountShare]:
    """Return the causal paths by probability, best first; all of them for None."""
    order = (-probabilities[:-1]).argsort(kind="stable")[:limit].tolist()
    return [
        AccountShare((*desk.accounts[r].path, desk.accounts[r].defect), float(probabilities[r]))
        for r in order
    ]
