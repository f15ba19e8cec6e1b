"""A case as a search: which hypotheses are left, and what every step would tell of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from diagnose.engine.ask import Grouping, finding_tables, look_tables
from diagnose.engine.cliquetree import Floats, Ints
from diagnose.engine.posterior import Evidence
from diagnose.engine.troubleshoot import Trouble
from diagnose.reasoning.asking import Prospect, narrowed, weighed
from diagnose.reasoning.corrections import correction_of_account
from diagnose.reasoning.places import BENCH, CASTING, PLACES, places
from diagnose.reasoning.setup import Desk
from diagnose.reject.found import LOOK
from diagnose.reject.reject import Reject

HYPOTHESES = 150
"""So many of the likeliest are told apart; what is left is one more, which nothing cures."""
BY_RATE, BY_PROOF = 12, 8
"""So many steps that tell most a minute, and that prove the likeliest corrections, are weighed."""
MOSTLY, RATHER = 0.5, 10.0
"""An outcome proves a cause that it comes with mostly, and so much rather than with the others."""

SLOWER = 1.0
"""Asking on tells so much a minute, beside what a good question tells now: it gets harder."""


@dataclass(frozen=True, slots=True)
class Case:
    """A search with what its numbers mean.

    ``steps``: the prospects that are weighed. ``corrections``: ids of actions. ``here``: where
    one stands, as a number of ``spots``. ``root``: of every hypothesis but the last, the row of
    its root condition.
    """

    trouble: Trouble
    steps: tuple[Prospect, ...]
    corrections: tuple[str, ...]
    here: int
    root: Ints


def spot(place: str) -> int:
    """Return the number of a place; the casting lies on the bench."""
    return PLACES.index(BENCH if place == CASTING else place)


@dataclass(frozen=True, slots=True)
class Hypotheses:
    """Accounts of one correction, root condition and defect, taken as one.

    ``of_account``: the hypothesis of each account. ``chance``: of each; those of one correction
    stand together, what is left comes last. ``firsts``: where each correction begins.
    ``corrections``: ids of actions. ``root``: of each but the last.
    """

    of_account: Ints
    chance: Floats
    firsts: Ints
    corrections: tuple[str, ...]
    root: Ints


def hypotheses(desk: Desk, probabilities: Floats) -> Hypotheses:
    """Return the likeliest hypotheses, and all the others as one."""
    actions, model = list(desk.book.actions), desk.model
    cure = correction_of_account(desk, actions)
    width, faults = len(model.root_number), len(desk.book.defects)
    key = (cure * width + model.root_of_account) * faults + model.network.defect
    names, of_account = np.unique(np.where(cure < 0, -1, key), return_inverse=True)
    mass = np.bincount(of_account, probabilities, len(names))
    known = np.flatnonzero((names >= 0) & (mass > 0.0))
    kept = np.sort(known[np.argsort(-mass[known], kind="stable")[:HYPOTHESES]])
    number = np.full(len(names), len(kept), dtype=np.intp)
    number[kept] = np.arange(len(kept))
    chance = np.bincount(number, mass, len(kept) + 1)
    cures = names[kept] // (width * faults)
    starts = np.flatnonzero(np.diff(cures, prepend=-1))
    return Hypotheses(
        number[of_account.reshape(-1)],
        np.asarray(chance / chance.sum()),
        np.append(starts, len(kept)),
        tuple(actions[int(cures[k])] for k in starts),
        names[kept] // faults % width,
    )


def case_of(
    desk: Desk, reject: Reject, evidence: Evidence, probabilities: Floats,
    prospects: Sequence[Prospect], here: str,
) -> Case:  # fmt: skip
    """Return a case as a search. ``here``: the place where one stands."""
    told = hypotheses(desk, probabilities)
    proof, best = _proofs(desk, prospects, told)
    steps = _candidates(prospects, told, best)
    scale = desk.book.scale
    trouble = Trouble(
        told.chance,
        told.firsts,
        _tables(desk, reject, evidence, probabilities, steps, told),
        np.array([minutes_of(desk, prospect) for prospect in steps]),
        np.array([spot(places(desk.book)[prospect.id]) for prospect in steps], dtype=np.intp),
        proof,
        np.full(len(told.corrections), scale.trial),
        scale.walk,
        scale.giving_up,
        SLOWER * _usual_rate(steps),
        np.array([prospect.gain_bits for prospect in steps]),
    )
    return Case(trouble, tuple(steps), told.corrections, spot(here), told.root)


def _usual_rate(steps: Sequence[Prospect]) -> float:
    """Return what a good question tells a minute, those left out that settle what was heard."""
    rates = [step.rate for step in steps if not step.heard][:BY_RATE]
    return float(np.median(rates)) if rates else 0.0


def minutes_of(desk: Desk, prospect: Prospect) -> float:
    """Return what a step costs, the handling of its question counted in."""
    return prospect.gain_bits / prospect.rate if prospect.rate > 0.0 else (
        prospect.minutes + desk.book.scale.handling
    )  # fmt: skip


def _proofs(
    desk: Desk, prospects: Sequence[Prospect], told: Hypotheses
) -> tuple[Floats, Mapping[int, int]]:
    """Return the minutes of the quickest proof of each correction, and which step that is.

    The minutes by the place where one stands: (places, corrections). Half a walk is counted for
    a step elsewhere, for steps of one place come in runs.
    """
    book, where = desk.book, places(desk.book)
    minutes = np.full((len(PLACES), len(told.corrections)), np.inf)
    best: dict[int, int] = {}
    shop = [k for k, prospect in enumerate(prospects) if prospect.kind != LOOK]
    if not shop or not len(told.root):
        return minutes, best
    rows = np.concatenate([prospects[k].joint for k in shop])
    of_row = np.repeat(shop, [len(prospects[k].joint) for k in shop])
    roots = prospects[shop[0]].joint.sum(axis=0)
    likeliest = [
        int(told.root[a + np.argmax(told.chance[a:b])])
        for a, b in zip(told.firsts[:-1], told.firsts[1:], strict=True)
    ]
    mine = rows[:, likeliest]
    given = mine / np.maximum(roots[likeliest], 1e-300)
    others = (rows.sum(axis=1)[:, None] - mine) / np.maximum(1.0 - roots[likeliest], 1e-12)
    proves = (given >= MOSTLY) & (given >= RATHER * others)
    cost = np.array([minutes_of(desk, prospects[k]) for k in of_row])
    stands = np.array([spot(where[prospects[k].id]) for k in of_row])
    for place in range(len(PLACES)):
        walked = cost + 0.5 * book.scale.walk * (stands != place)
        each = np.where(proves, walked[:, None] / np.maximum(given, MOSTLY), np.inf)
        minutes[place] = each.min(axis=0)
    each = np.where(proves, cost[:, None] / np.maximum(given, MOSTLY), np.inf)
    quickest = each.argmin(axis=0)
    best = {
        c: int(of_row[row]) for c, row in enumerate(quickest.tolist()) if np.isfinite(each[row, c])
    }
    return minutes, best


def _candidates(
    prospects: Sequence[Prospect], told: Hypotheses, best: Mapping[int, int]
) -> list[Prospect]:
    """Return the steps that are worth weighing: telling ones, and proofs of what is likeliest."""
    share = np.add.reduceat(told.chance[:-1], told.firsts[:-1]) if len(told.root) else np.zeros(0)
    likely = np.argsort(-share)[: 2 * BY_PROOF].tolist()
    proofs = list(dict.fromkeys(best[c] for c in likely if c in best))[:BY_PROOF]
    chosen = dict.fromkeys([*range(min(BY_RATE, len(prospects))), *proofs])
    return [prospects[k] for k in chosen]


def _tables(
    desk: Desk, reject: Reject, evidence: Evidence, probabilities: Floats,
    steps: Sequence[Prospect], told: Hypotheses,
) -> Floats:  # fmt: skip
    """Return the chance of every answer of every step under each hypothesis."""
    by = Grouping(told.of_account, len(told.chance))
    joint: dict[str, Floats] = {}
    looks = {}
    outcomes = {}
    for step in steps:
        name = step.id
        if name in desk.looks:
            number = desk.looks[name]
            if number in evidence.looks or number in evidence.graded:
                joint[name] = narrowed(desk, evidence, number, by)
            else:
                looks[name] = number
        elif step.heard:
            joint[name] = weighed(desk, evidence, reject, name, by)
        else:
            outcomes[name] = desk.findings[name]
    seen = look_tables(desk.model, probabilities, list(looks.values()), by)
    rows = {number: desk.outcomes(name) for name, number in outcomes.items()}
    found = finding_tables(desk.model, evidence, probabilities, rows, by) if rows else []
    joint |= dict(zip(looks, seen, strict=True)) | dict(zip(outcomes, found, strict=True))
    most = max((len(table) for table in joint.values()), default=1)
    tables = np.zeros((len(steps), most, len(told.chance)))
    for k, step in enumerate(steps):
        table = joint[step.id]
        whole = table.sum(axis=0)
        tables[k, : len(table)] = np.where(whole > 0.0, table, table.sum(axis=1)[:, None]) / (
            np.where(whole > 0.0, whole, max(float(whole.sum()), 1e-300))
        )
    return tables
