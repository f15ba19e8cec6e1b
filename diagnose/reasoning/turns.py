"""Whose turn it is: everything that the casting shows, then place by place.

What a question tells a minute says how good it is; this says when it is put. Until the fault is
clear, questions count by what they tell of the fault, then by what they tell of the cause.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from diagnose.engine.ask import Grouping, information, look_tables
from diagnose.engine.cliquetree import Floats
from diagnose.engine.posterior import by_root
from diagnose.reasoning.asking import CERTAIN, TO_SETTLE, Prospect
from diagnose.reasoning.places import CASTING, no_walk, places
from diagnose.reasoning.setup import Desk
from diagnose.reject.found import LOOK

CLEAR = 0.8
"""A fault with this chance is clear."""
OF_THE_BEST = 0.3
"""The casting, or the place where one stands, comes first while it tells so much of the best."""
LATER = 0.1
"""Until the fault is clear, what is found in the shop counts only so much."""
AHEAD = 12
"""So many questions are looked over for how many more are worth it."""


@dataclass(frozen=True, slots=True)
class ToGo:
    """How many questions are left that are worth it, and their minutes, walking counted."""

    questions: int
    minutes: float

    @property
    def text(self) -> str:
        """In words: "about 4 more, 6 minutes, or stop here"."""
        if not self.questions:
            return "Nothing left to ask is worth its minutes: stop here."
        minutes = max(1, round(self.minutes))
        unit = "minute" if minutes == 1 else "minutes"
        return f"About {self.questions} more, {minutes} {unit}, or stop here."


def in_turn(
    desk: Desk, prospects: Sequence[Prospect], probabilities: Floats, here: str
) -> list[Prospect]:
    """Return open questions in the order in which to put them. ``here``: where one stands.

    What was heard and may be settled with one key, what the casting shows, then the places, each
    in one run, the one first that has the best question when walking is counted; last what tells
    little.
    """
    where = places(desk.book)
    rates = _rates(desk, prospects, probabilities, here)
    left = sorted(prospects, key=lambda p: -rates[p.id])
    order = [p for p in left if p.heard]
    left = [p for p in left if not p.heard]
    for shown in (True, False):
        here_best = [p for p in left if not shown or where[p.id] == CASTING]
        enough = OF_THE_BEST * max((rates[p.id] for p in left), default=0.0)
        told = [p for p in here_best if rates[p.id] >= max(enough, desk.book.scale.worth_asking)]
        first = {where[p.id]: k for k, p in reversed(list(enumerate(told)))}
        order += sorted(told, key=lambda p: first[where[p.id]])  # stable: by rate within a place
        taken = {p.id for p in told}
        left = [p for p in left if p.id not in taken]
    return [*order, *left]


def worth_first(desk: Desk, turns: Sequence[Prospect]) -> list[Prospect]:
    """Return questions in their turn, those that are not worth their minutes behind all others.

    Whoever asks stops at the first that is not; one that was heard all but surely is such a one.
    """
    return sorted(turns, key=lambda p: p.rate < desk.book.scale.worth_asking)


def _rates(
    desk: Desk, prospects: Sequence[Prospect], probabilities: Floats, here: str
) -> dict[str, float]:
    """Return what every question tells a minute of what is to be found out now: fault, or cause."""
    where, scale = places(desk.book), desk.book.scale
    minutes = {
        p.id: _minutes(desk, p) + (0.0 if no_walk(here, where[p.id]) or p.heard else scale.walk)
        for p in prospects
    }
    cause = {p.id: p.gain_bits / minutes[p.id] for p in prospects}
    fault = {
        name: bits / minutes[name]
        for name, bits in of_fault(desk, prospects, probabilities).items()
    }
    if max(fault.values(), default=0.0) < scale.worth_asking:
        return cause
    return {name: fault.get(name, 0.0 if name in desk.looks else rate * LATER)
            for name, rate in cause.items()}  # fmt: skip


def to_go(desk: Desk, turns: Sequence[Prospect], probabilities: Floats, here: str) -> ToGo:
    """Return how many questions are left that are worth it; what one tells makes others idle.

    An estimate: what is left unknown of the cause over what these questions tell together, of
    which each tells less once others are answered.
    """
    roots = by_root(desk.model, probabilities)
    if not turns or roots.max() >= CERTAIN:
        return ToGo(0, 0.0)
    unknown = float(-(roots * np.log2(np.maximum(roots, 1e-300))).sum())
    where, walk = places(desk.book), desk.book.scale.walk
    told = minutes = 0.0
    stands, count = here, 0
    for prospect in turns[:AHEAD]:
        if prospect.rate * (1.0 - told / unknown) < desk.book.scale.worth_asking:
            break
        count += 1
        minutes += _minutes(desk, prospect)
        minutes += 0.0 if no_walk(stands, where[prospect.id]) else walk
        stands, told = where[prospect.id], min(unknown, told + prospect.gain_bits)
    return ToGo(count, minutes)


def _minutes(desk: Desk, prospect: Prospect) -> float:
    if prospect.heard:
        return 2.0 * TO_SETTLE
    return prospect.minutes + desk.book.scale.handling


def of_fault(desk: Desk, prospects: Sequence[Prospect], probabilities: Floats) -> dict[str, float]:
    """Return look -> bits that it tells of the fault; empty where the fault is clear."""
    network, faults = desk.model.network, len(desk.book.defects)
    of_account = np.append(network.defect[:-1], faults).astype(np.intp)
    shares = np.bincount(of_account, probabilities, faults + 1)
    if shares[:-1].max(initial=0.0) >= CLEAR:
        return {}
    looks = [p for p in prospects if p.kind == LOOK and not p.heard]
    numbers = [desk.looks[p.id] for p in looks]
    if not looks:
        return {}
    tables = look_tables(desk.model, probabilities, numbers, Grouping(of_account, faults + 1))
    starts = np.cumsum([0, *(len(table) for table in tables[:-1])]).tolist()
    gains = information(np.concatenate(tables), starts)
    return {p.id: max(0.0, float(g)) for p, g in zip(looks, gains, strict=True)}
