"""Everything that speaks for or against accounts of one group, each piece with its words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import log

import numpy as np

from diagnose.batch.causes.counts import CAP, capped, moves
from diagnose.batch.causes.group import Group, Pooled
from diagnose.batch.causes.signs import Sign, by_look, called_for, signs
from diagnose.batch.result import Movement
from diagnose.engine.cliquetree import Floats
from diagnose.engine.posterior import likelihood_of, look_rates
from diagnose.reasoning.graded import MOST, heard_looks
from diagnose.reasoning.reasons import entry_title
from diagnose.reasoning.setup import CALLED, Desk
from diagnose.reject.found import CALLED as NAMED
from diagnose.reject.found import CHECK, LOOK
from diagnose.rulebase.sights import sights

ALIKE = 0.5
"""How far remarks on one group repeat each other: of any number of them, two at most count."""
FAINT = 0.5
"""What remarks are expected to have said less often than this was hardly said at all."""
USUAL_MOVE = log(2.0)
"""Where a fault follows a reading, one usual step of it about doubles the odds (a judgement)."""
Z = 1.96
"""Standard errors from the middle of a 95 % interval to its ends."""


@dataclass(frozen=True, slots=True)
class Clue:
    """One piece of evidence on a group. ``logs``: log likelihood under each account.

    ``kind``: ``fault``, ``counts``, ``remarks`` or ``movement``.
    ``entry``: the look or measurement.
    """

    kind: str
    entry: str
    text: str
    logs: Floats


def clues(desk: Desk, group: Group) -> list[Clue]:
    """Return all clues of a group: its fault, its counts, its remarks, its movements.

    Looks that ask after one fact count once, and so do the looks that one factor answers. What
    the counts answer is not taken from remarks once more.
    """
    read = [sign for sign in signs(desk.book, group) if sign.look in desk.looks]
    counted = _once(desk, [_counted(desk, look, read) for look in by_look(read)], read)
    taken = {name for clue in counted for name in sights(desk.book)[clue.entry]}
    said = [clue for clue in remarks(desk, group.remarks) if clue.entry not in taken]
    known = {clue.entry for clue in (*counted, *said)}
    implied = [
        clue for clue in _implied(desk, [clue.entry for clue in counted]) if clue.entry not in known
    ]
    named = _named(desk, group)
    moved = movements(desk, group.movements)
    return [*([named] if named else []), *counted, *implied, *_once(desk, said, []), *moved]


def _named(desk: Desk, group: Group) -> Clue | None:
    """Return what the fault's word says: named once, however many castings it stands at."""
    number = desk.looks[CALLED]
    names = desk.answers[number]
    said = {names.index(name): share * MOST for name, share in group.defects if name in names}
    if not said:
        return None
    likelihood = likelihood_of(said, look_rates(desk.model, number))
    called = " or ".join(desk.book.defects[name].name for name, _ in group.defects if name in names)
    logs = desk.model.looks[number].log_likelihood_of(likelihood)
    return Clue("fault", CALLED, f"the sheet calls it: {called}", logs)


def _counted(desk: Desk, look: str, read: Sequence[Sign]) -> Clue:
    number = desk.looks[look]
    factors = by_look(read)[look]
    likelihood = tuple(factors.get(answer, 1.0) for answer in desk.answers[number])
    mine = [sign for sign in read if sign.look == look]
    best = max(mine, key=lambda sign: max(sign.factors.values()))
    answer = max(best.factors, key=best.factors.__getitem__)
    if best.factors[answer] < 1.0:  # even counts: say what they speak for
        answer = desk.book.signatures[best.signature].even or answer
    say = desk.book.looks[look].answers[answer].say
    text = f"{entry_title(desk, look)}: {say} ({best.text})"
    return Clue("counts", look, text, desk.model.looks[number].log_likelihood_of(likelihood))


def _implied(desk: Desk, looks: Sequence[str]) -> Iterator[Clue]:
    """Yield what must hold of other looks, so that those that the sheet answers make sense."""
    for other, allowed in called_for(desk.book, looks):
        if other in desk.looks:
            number = desk.looks[other]
            rates = look_rates(desk.model, number)
            fits = np.array([answer in allowed for answer in desk.answers[number]])
            whole = max(float(rates[fits].sum()), 1e-3)
            likelihood = tuple(((1.0 - MOST) + MOST * fits / whole).tolist())
            says = [desk.book.looks[other].answers[answer].say for answer in allowed]
            text = f"{entry_title(desk, other)}: {' or '.join(says)} (else the sheet could not say)"
            yield Clue(
                "counts", other, text, desk.model.looks[number].log_likelihood_of(likelihood)
            )


def remarks(desk: Desk, pooled: Iterable[Pooled]) -> list[Clue]:
    """Return what inspectors wrote, one clue for each look, however many rejects it stands at.

    Each remark weighs the accounts by itself; k of them together count as k / (1 + (k - 1) / 2),
    which is two at most, and no look of remarks shifts the odds of two accounts more than CAP.
    """
    sums: dict[str, Floats] = {}
    counts: dict[str, float] = {}
    words: dict[str, dict[str, float]] = {}
    names = list(desk.looks)
    for remark in pooled:
        heard = [h for h in remark.hearings if h.kind not in (NAMED, CHECK)]
        for number, likelihood in heard_looks(desk, heard, set()).items():
            look = names[number]
            logs = desk.model.looks[number].log_likelihood_of(likelihood) * remark.count
            sums[look] = sums[look] + logs if look in sums else logs
            counts[look] = counts.get(look, 0.0) + remark.count
            for h in heard:
                if h.id == look and h.kind == LOOK:
                    told = words.setdefault(look, {})
                    told[h.answer] = told.get(h.answer, 0.0) + remark.count * h.probability
    found = []
    for look, logs in sums.items():
        if max(words.get(look, {}).values(), default=FAINT) < FAINT:
            continue
        shared = held(logs * counting(counts[look]) / counts[look])
        found.append(Clue("remarks", look, _written(desk, look, words.get(look, {})), shared))
    return found


def counting(count: float) -> float:
    """Return for how many independent remarks so many of one group count.

    >>> counting(1), round(counting(4), 3), round(counting(200), 3)
    (1.0, 1.6, 1.99)
    """
    return count / (1.0 + (count - 1.0) * ALIKE) if count > 1.0 else float(count)


def held(logs: Floats) -> Floats:
    """Return log likelihoods of which none lies more than log CAP below the highest."""
    return np.asarray(np.maximum(logs - logs.max(), -log(CAP)))


def _written(desk: Desk, look: str, told: dict[str, float]) -> str:
    if not told:
        return f"{entry_title(desk, look)}: follows from what inspectors wrote"
    answer = max(told, key=told.__getitem__)
    say = desk.book.looks[look].answers[answer].say
    return f"{entry_title(desk, look)}: {say} (inspectors wrote it {told[answer]:.0f} times)"


def movements(desk: Desk, moved: Iterable[Movement]) -> list[Clue]:
    """Return what readings say that the fault moves with, or does not.

    A fault that rises with a reading speaks for the accounts that run through a condition that a
    high reading speaks for; readings of one sample tell the same thing, so of all that speak for
    an account only the strongest counts, and of all that speak against it likewise.
    """
    known = desk.book.measurements
    found = [
        _moves(desk, one)
        for one in moved
        if one.quantity in known and 0.0 < one.low < one.high and one.odds_ratio > 0.0
    ]
    if len(found) < 2:
        return found
    table = np.array([clue.logs for clue in found])
    strongest = (table == table.max(axis=0)) & (table > 0.0)
    weakest = (table == table.min(axis=0)) & (table < 0.0)
    counts = (strongest & (np.cumsum(strongest, axis=0) == 1)) | (
        weakest & (np.cumsum(weakest, axis=0) == 1)
    )
    return [
        Clue(clue.kind, clue.entry, clue.text, np.where(mine, clue.logs, 0.0))
        for clue, mine in zip(found, counts, strict=True)
    ]


def _moves(desk: Desk, one: Movement) -> Clue:
    measurement = desk.book.measurements[one.quantity]
    error = (log(one.high) - log(one.low)) / (2.0 * Z)
    rises, falls = (capped(f) for f in moves(log(one.odds_ratio), error, USUAL_MOVE))
    factors = np.ones(len(desk.accounts) + 1)
    for speaks, factor in (
        (measurement.high_speaks_for, rises),
        (measurement.low_speaks_for, falls),
    ):
        shares = {name: desk.book.figure(figure) for name, figure in speaks.items()}
        share = np.array([max((shares.get(c, 0.0) for c in a.path), default=0.0)
                          for a in desk.accounts])  # fmt: skip
        factors[:-1] *= 1.0 + share * (factor - 1.0)
    way = "rises" if one.odds_ratio > 1.0 else "falls"
    if max(rises, falls) < 1.0:
        way = "does not move"
    text = (
        f"it {way} with the {measurement.name} (odds times {one.odds_ratio:.2f} "
        f"for {one.per:g} {one.unit} more)"
    )
    return Clue("movement", one.quantity, text, np.log(factors))


def _once(desk: Desk, found: Sequence[Clue], read: Sequence[Sign]) -> list[Clue]:
    """Let looks that tell one fact, or that one factor answers, count once: the one that says most.

    What each says is measured over the accounts as they stand before anything is known.
    """
    prior = np.exp(desk.model.log_prior)
    same = sights(desk.book)
    answered_by = {clue.entry: {s.factor for s in read if s.look == clue.entry} for clue in found}
    kept: list[Clue] = []
    for clue in sorted(found, key=lambda one: -says(prior, one.logs)):
        tied = (
            other.entry in same[clue.entry] or answered_by[clue.entry] & answered_by[other.entry]
            for other in kept
        )
        if not any(tied):
            kept.append(clue)
    return kept


def says(prior: Floats, logs: Floats) -> float:
    """Return how far log likelihoods move the accounts, in natural units."""
    after = prior * np.exp(logs - logs.max())
    after = after / after.sum()
    ratio = np.log(np.maximum(after, 1e-300)) - np.log(np.maximum(prior, 1e-300))
    return float((after * ratio).sum())
