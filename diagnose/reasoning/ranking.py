"""Causes, faults and causal paths by their probability."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from diagnose.engine.cliquetree import Floats
from diagnose.engine.posterior import by_root
from diagnose.reasoning.asking import cause_name
from diagnose.reasoning.setup import NONE, Desk
from diagnose.rulebase.graph import Account


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
    conditions = desk.book.conditions
    found = [
        Cause(name, cause_name(desk, name), "" if name == NONE else conditions[name].area, p)
        for name, p in zip(desk.roots, by_root(desk.model, probabilities).tolist(), strict=True)
    ]
    return sorted(found, key=lambda cause: -cause.probability)


def defects(desk: Desk, probabilities: Floats) -> list[Share]:
    """Return the defects by probability; what is left belongs to "none of these"."""
    of_account = desk.model.network.defect[:-1]
    sums = np.bincount(of_account, probabilities[:-1], len(desk.book.defects)).tolist()
    found = [
        Share(name, defect.name, p)
        for (name, defect), p in zip(desk.book.defects.items(), sums, strict=True)
    ]
    return sorted(found, key=lambda share: -share.probability)


def accounts(desk: Desk, probabilities: Floats, limit: int | None) -> list[AccountShare]:
    """Return the causal paths by probability, best first; all of them for None."""
    order = (-probabilities[:-1]).argsort(kind="stable")[:limit].tolist()
    return [
        AccountShare((*account.path, account.defect), float(probabilities[r]))
        for r in order
        for account in (desk.accounts[r],)
    ]


def likeliest(desk: Desk, probabilities: Floats, cause: str) -> Account | None:
    """Return the most probable account of a root condition; None where it has none."""
    number = desk.conditions.get(cause, -1)
    mine = np.flatnonzero(desk.model.network.root[:-1] == number)
    return desk.accounts[int(mine[probabilities[mine].argmax()])] if len(mine) else None
