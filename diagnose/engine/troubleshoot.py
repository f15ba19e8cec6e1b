"""Which step leaves the least expected minutes until the cause is found and put right.

The hypotheses exclude each other, each with the correction that puts it right. A step costs
minutes, more where it is at another place than the last one, and has one of several answers, each
with its chance under every hypothesis; given the hypothesis the answers of two steps are taken to
be independent. Trying a correction costs minutes as well, and ends the search if it is the right
one. What no correction of the list cures costs the minutes of giving up.

What remains is estimated by the better of two simple ways to go on from there: prove, or try, one
correction after the other in the order of probability over minutes, which is the best order where
each step concerns one cause alone; or, while there are too many for that, ask on until it is known.
A step is worth what it takes off these minutes for each minute that it costs (roll-out), looking
two steps ahead for the few that are best one step ahead.

References
----------
J. Breese and D. Heckerman, "Decision-theoretic troubleshooting" (1996), and F. V. Jensen and
others, "The SACSO methodology for troubleshooting complex systems" (2001) (both from memory):
probability over cost, and expected cost of repair. D. P. Bertsekas and others, "Rollout
algorithms" (1997) (from memory): one step of choice, then the simple plan, betters the plan.

"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from diagnose.engine.cliquetree import Floats, Ints

LOOKED_AHEAD = 6
"""So many of the best steps are looked at two steps deep."""
TRIED = 3
"""So many of the likeliest corrections are considered for trying at once."""
RARE = 1e-9


@dataclass(frozen=True, slots=True)
class Trouble:
    """A search as it stands.

    ``chance``: (hypotheses) of each, adding up to one; hypotheses of one correction stand together
    and those that none cures come last. ``firsts``: where each correction's hypotheses begin, and
    at the end where those without begin. ``told``: (steps, answers, hypotheses) chance of every
    answer, all zero where a step has fewer. ``minutes``: of each step. ``place``: of each step.
    ``proof``: (places, corrections) minutes of the quickest step that proves each correction to be
    the right one, infinite where none does, for somebody who stands at a place. ``trial``:
    minutes of trying each correction. ``walk``: minutes from one place to another. ``giving_up``:
    minutes that it takes where all of this fails. ``bits_a_minute``: how fast asking on is expected
    to tell corrections apart; 0 where there is nothing to ask. ``bits``: what each step tells
    exactly as things stand, where that is known: more than it tells of these hypotheses, because
    those that are left are one here; None after a step.
    """

    chance: Floats
    firsts: Ints
    told: Floats
    minutes: Floats
    place: Ints
    proof: Floats
    trial: Floats
    walk: float
    giving_up: float
    bits_a_minute: float = 0.0
    bits: Floats | None = None

    @property
    def corrections(self) -> int:
        """How many corrections there are."""
        return len(self.trial)

    def shares(self, weights: Floats) -> Floats:
        """Return the chance that each correction is right: (..., corrections)."""
        end = int(self.firsts[-1])
        if self.corrections == 0:
            return np.zeros((*weights.shape[:-1], 0))
        return np.asarray(np.add.reduceat(weights[..., :end], self.firsts[:-1], axis=-1))

    def cost(self, here: int) -> Floats:
        """Return the minutes of every step for somebody who stands at ``here``."""
        return np.asarray(self.minutes + self.walk * (self.place != here))

    def after_failing(self, correction: int) -> Trouble:
        """Return the search after a correction was tried and did not help."""
        chance = self.chance.copy()
        chance[self.firsts[correction] : self.firsts[correction + 1]] = 0.0
        return replace(self, chance=chance / max(float(chance.sum()), RARE), bits=None)

    def after(self, step: int, likelihood: Floats) -> Trouble:
        """Return the search after a step, which is not taken twice."""
        chance = self.chance * likelihood
        told = self.told.copy()
        told[step] = 0.0
        told[step, 0] = 1.0  # it would tell nothing more
        return replace(self, chance=chance / max(float(chance.sum()), RARE), told=told, bits=None)


def remaining(trouble: Trouble, weights: Floats, here: int) -> Floats:
    """Return the expected minutes that remain in each of several states: (rows,).

    ``weights``: (rows, hypotheses), adding up to one. The lesser of two ways to go on: to prove or
    try one correction after the other, the greatest chance a minute first, giving up where that
    costs less; or to ask until it is known and put that right.
    """
    shares = trouble.shares(weights)
    proof = trouble.proof[here]
    quickest = np.minimum(proof, trouble.trial)
    order = np.argsort(-(shares / quickest), axis=-1)
    chance = np.take_along_axis(shares, order, -1)
    test, trial = np.minimum(proof, 1e9)[order], trouble.trial[order]
    after = 1.0 - np.cumsum(chance, axis=-1)
    before = after + chance
    cost = np.minimum(test * before + trial * chance, trial * before)
    spent = np.cumsum(cost, axis=-1) + trouble.giving_up * after
    one_by_one = spent.min(axis=-1, initial=trouble.giving_up)
    if trouble.bits_a_minute <= 0.0:
        return np.asarray(one_by_one)
    rest = np.maximum(1.0 - shares.sum(axis=-1), 0.0)
    unknown = _bits(shares).sum(axis=-1) + _bits(rest)
    asked = unknown / trouble.bits_a_minute + shares @ trouble.trial + trouble.giving_up * rest
    return np.asarray(np.minimum(one_by_one, asked))


def _bits(p: Floats) -> Floats:
    """Return -p log2 p, and 0 where p is 0."""
    return np.asarray(-p * np.log2(np.maximum(p, np.finfo(np.float64).tiny)))


def try_order(trouble: Trouble, weights: Floats) -> float:
    """Return the least expected minutes where nothing but trying is left."""
    bare = replace(trouble, proof=np.full_like(trouble.proof, np.inf), bits_a_minute=0.0)
    return float(remaining(bare, weights[None], 0)[0])


@dataclass(frozen=True, slots=True)
class Choice:
    """What to do next. ``step``: its number, or -1 where a correction is to be tried or given up.

    ``correction``: its number, -1 where it is not a trial. ``minutes``: expected until all is
    put right, this step and what remains together.
    """

    step: int
    correction: int
    minutes: float


def one_ahead(trouble: Trouble, weights: Floats, here: int) -> Floats:
    """Return for each state and step the minutes of taking it and of the simple plan after it.

    ``weights``: (rows, hypotheses). Shape (rows, steps).
    """
    rows, (steps, answers, _) = len(weights), trouble.told.shape
    cost = trouble.cost(here)
    found = np.empty((rows, steps))
    for place in np.unique(trouble.place):
        mine = np.flatnonzero(trouble.place == place)
        joint = weights[:, None, None, :] * trouble.told[None, mine]
        mass = joint.sum(axis=-1)
        flat = joint.reshape(rows * len(mine) * answers, -1)
        whole = mass.reshape(-1)
        live = whole > RARE
        left = np.zeros(len(whole))
        left[live] = remaining(trouble, flat[live] / whole[live, None], int(place))
        found[:, mine] = (mass * left.reshape(mass.shape)).sum(axis=-1)
    return found + cost


def trials(trouble: Trouble, here: int) -> list[tuple[int, float]]:
    """Return the likeliest corrections with the minutes of trying each first."""
    shares = trouble.shares(trouble.chance)
    best = np.argsort(-(shares / trouble.trial))[:TRIED]
    found = []
    for correction in best.tolist():
        if shares[correction] <= RARE:
            continue  # ruled out: trying it would bring nothing
        left = trouble.after_failing(correction)
        rest = float(remaining(left, left.chance[None], here)[0])
        miss = 1.0 - float(shares[correction])
        found.append((correction, float(trouble.trial[correction]) + miss * rest))
    return found


def choose(trouble: Trouble, here: int, open_steps: Sequence[int], deep: bool = True) -> Choice:
    """Return the step that takes most off the expected minutes for each minute that it costs.

    Where no step takes off more than it costs, the best correction is tried, or all is given up.
    ``deep``: look two steps ahead for the best few.
    """
    stop = Choice(-1, -1, trouble.giving_up)
    for correction, minutes in trials(trouble, here):
        if minutes < stop.minutes:
            stop = Choice(-1, correction, minutes)
    if not open_steps or trouble.chance.sum() <= RARE:
        return stop
    cost = trouble.cost(here)
    after = one_ahead(trouble, trouble.chance[None], here)[0] - cost
    rate = (stop.minutes - after) / cost
    if trouble.bits is not None and trouble.bits_a_minute > 0.0 and _far(trouble, here):
        rate = trouble.bits / trouble.bits_a_minute / cost
        deep = False
    best = sorted(open_steps, key=lambda s: (-rate[s], s))[:LOOKED_AHEAD]
    found = [(float(rate[step]), -step, float(cost[step] + after[step])) for step in best]
    if deep:
        found += [_two_ahead(trouble, step, here, open_steps, stop.minutes) for step in best]
    worth, number, minutes = max(found)
    return Choice(-number, -1, minutes) if worth > 1.0 else stop


def _far(trouble: Trouble, here: int) -> bool:
    """Tell whether asking on is better than going through the corrections one by one."""
    bare = replace(trouble, bits_a_minute=0.0)
    one_by_one = float(remaining(bare, trouble.chance[None], here)[0])
    return float(remaining(trouble, trouble.chance[None], here)[0]) < one_by_one


def _two_ahead(
    trouble: Trouble, step: int, here: int, open_steps: Sequence[int], now: float
) -> tuple[float, int, float]:
    """Return what two steps take off a minute, where the second is chosen by the first's answer.

    With it the first step, negative, and the expected minutes in all.
    """
    cost = float(trouble.cost(here)[step])
    others = [s for s in open_steps if s != step]
    joint = trouble.told[step] * trouble.chance
    mass = joint.sum(axis=-1)
    live = mass > RARE
    weights, place = joint[live] / mass[live, None], int(trouble.place[step])
    left = remaining(trouble, weights, place)
    if not others:
        whole = cost + float(mass[live] @ left)
        return (now - whole + cost) / cost, -step, whole
    few = replace(
        trouble,
        told=trouble.told[others], minutes=trouble.minutes[others], place=trouble.place[others],
        bits=None,
    )  # fmt: skip
    more = few.cost(place)
    after = one_ahead(few, weights, place) - more
    second = np.argmax((left[:, None] - after) / more, axis=-1)
    rows = np.arange(len(left))
    worth = left - after[rows, second] > more[second]
    spent = cost + float(mass[live] @ np.where(worth, more[second], 0.0))
    rest = float(mass[live] @ np.where(worth, after[rows, second], left))
    return (now - rest) / spent, -step, spent + rest
