"""What a batch comes from: groups of rejects that share one shop, their causes, and why."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from diagnose.batch.causes.apart import tells
from diagnose.batch.causes.case import Case
from diagnose.batch.causes.group import Group, Shop
from diagnose.batch.causes.reasons import reasons
from diagnose.batch.causes.together import MOST_GROUPS
from diagnose.batch.result import Cause, Tell
from diagnose.notes.suspects import cautions
from diagnose.notes.wording import sentence
from diagnose.reasoning.asking import cause_name
from diagnose.reasoning.setup import NONE

if TYPE_CHECKING:
    from diagnose.session.library import Library

MOST_CAUSES = 12
WORTH_NAMING = 0.02
"""Causes less likely than this are left out, but for the first three."""
APART = 0.05
"""Two chains that lie further apart than this at a cause are told of."""


@dataclass(frozen=True, slots=True)
class GroupAnswer:
    """What a group comes from by itself: ``causes`` (id, probability), the likeliest first."""

    name: str
    causes: tuple[tuple[str, float], ...]
    clues: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """The causes of a batch.

    ``none``: share of the scrap that no cause of the book explains. ``method``: ``exact`` or
    ``sampled``. ``apart``: the most by which the two chains differ at a cause; 0 where exact.
    """

    causes: tuple[Cause, ...]
    tells: tuple[Tell, ...]
    groups: tuple[GroupAnswer, ...]
    none: float
    method: str
    apart: float = 0.0
    warnings: tuple[str, ...] = ()


def causes_of(library: Library, shop: Shop, groups: Sequence[Group], seed: int = 1) -> Answer:
    """Return what a batch comes from.

    Groups of which nothing is bad are left out; of more than MOST_GROUPS the largest are taken.
    Raises ValueError where there is no group, or where what was found excludes every account.
    """
    known = sorted((group for group in groups if group.bad > 0.0), key=lambda one: -one.bad)
    if not known:
        raise ValueError("there is no group of rejects to find a cause for")
    taken = known[:MOST_GROUPS]
    case = Case(library.desk(shop.job), shop, taken, seed)
    ranked = case.ranked()
    named = [r for r in ranked[:MOST_CAUSES] if case.joint.at_work[r] >= WORTH_NAMING]
    named = named if len(named) >= 3 else ranked[:3]
    causes = [replace(_cause(case, root), reasons=reasons(case, root)) for root in named]
    apart = 0.0 if case.joint.apart is None else float(case.joint.apart.max())
    none = case.desk.roots.index(NONE)
    return Answer(
        tuple(causes),
        tells(case, named[0]),
        tuple(_group(case, g) for g in range(len(taken))),
        float(case.explained[:, none].sum() / case.explained.sum()),
        "exact" if case.joint.exact else "sampled",
        apart,
        tuple(_warnings(case, known[MOST_GROUPS:])),
    )


def _cause(case: Case, root: int) -> Cause:
    book, name = case.desk.book, case.desk.roots[root]
    area = book.conditions[name].area
    actions = case.actions(root)[:1]
    shares = _by_fault(case, root)
    return Cause(
        name,
        cause_name(case.desk, name),
        area,
        float(min(case.joint.at_work[root], 1.0)),
        float(case.explained[:, root].sum() / case.explained.sum()),
        tuple(sorted(shares.items(), key=lambda pair: -pair[1])),
        (),
        " ".join(sentence(text) for a in actions for text in (a.name, a.what, a.how_much)),
        cautions(book, [area], actions, []),
    )


def _by_fault(case: Case, root: int) -> Mapping[str, float]:
    """Return the castings of each fault of the sheet that a root is expected to explain."""
    shares: dict[str, float] = {}
    for group, castings in zip(case.groups, case.explained[:, root].tolist(), strict=True):
        for fault, weight in group.defects:
            shares[fault] = shares.get(fault, 0.0) + castings * weight
    return shares


def _group(case: Case, number: int) -> GroupAnswer:
    chances = case.responsible[number]
    order = np.argsort(-chances, kind="stable")[:MOST_CAUSES].tolist()
    causes = tuple((case.desk.roots[r], float(chances[r])) for r in order)
    return GroupAnswer(
        case.groups[number].name, causes, tuple(clue.text for clue in case.clues[number])
    )


def _warnings(case: Case, left_out: Sequence[Group]) -> Iterable[str]:
    if left_out:
        names = ", ".join(group.name for group in left_out)
        yield f"Only the {MOST_GROUPS} largest groups were weighed together. Left out: {names}."
    if case.joint.apart is not None:
        for root in np.flatnonzero(case.joint.apart > APART).tolist():
            name = cause_name(case.desk, case.desk.roots[root])
            yield (
                f"“{name}”: two runs of the sampling lie {100 * case.joint.apart[root]:.0f} points "
                "apart; take its probability as rough."
            )
    none = case.desk.roots.index(NONE)
    for group, chances in zip(case.groups, case.responsible, strict=True):
        if chances[none] == chances.max():
            yield f"{group.name}: no cause of the book fits what the sheet shows."
