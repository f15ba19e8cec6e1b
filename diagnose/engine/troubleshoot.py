"""Which step leaves the least expected minutes until the cause is found and put right.

The hypotheses exclude each other, each with the correction that puts it right. A step costs
minutes, more where it is at another place than the last one, and has one of several answers, each
with its chance under every hypothesis; given the hypothesis the answers of two steps are taken to
be independent. Trying a correction costs minutes as well, and ends the search if it is the right
one. What no correction of the list cures costs the minutes of giving up.

What remains is estimated by the simple plan that would be followed from there: prove, or try, one
correction after the other in the order of probability over minutes, which is the best order where
each step concerns one cause alone. A step is worth by how much it betters that plan (roll-out),
looking two steps ahead for the few that are best one step ahead.

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
    minutes that it takes where all of this fails.
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
        return replace(self, chance=chance / max(float(chance.sum()), RARE))

    def after(self, step: int, likelihood: Floats) -> Trouble:
        """Return the search after a step, which is not taken twice."""
        chance = self.chance * likelihood
        told = self.told.copy()
        told[step] = 0.0
        told[step, 0] = 1.0  # it would tell nothing more
        return replace(self, chance=chance / max(float(chance.sum()), RARE), told=told)


def remaining(trouble: Trouble, weights: Floats, here: int) -> Floats:
    """Return the expected minutes of the simple plan from each of several states: (rows,).

    ``weights``: (rows, hypotheses), adding up to one. The plan proves or tries one correction
    after the other, the greatest chance a minute first, and gives up where that costs less.
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
    return np.minimum(spent.min(axis=-1, initial=trouble.giving_up), trouble.giving_up)


def try_order(trouble: Trouble, weights: Floats) -> float:
    """Return the least expected minutes where nothing but trying is left."""
    bare = replace(trouble, proof=np.full_like(trouble.proof, np.inf))
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
        left = trouble.after_failing(correction)
        rest = float(remaining(left, left.chance[None], here)[0])
        miss = 1.0 - float(shares[correction])
        found.append((correction, float(trouble.trial[correction]) + miss * rest))
    return found


def choose(trouble: Trouble, here: int, open_steps: Sequence[int]) -> Choice:
    """Return what leaves the least expected minutes, looking two steps ahead for the best few."""
    choice = Choice(-1, -1, trouble.giving_up)
    for correction, minutes in trials(trouble, here):
        if minutes < choice.minutes:
            choice = Choice(-1, correction, minutes)
    if not open_steps:
        return choice
    first = one_ahead(trouble, trouble.chance[None], here)[0]
    for step in sorted(open_steps, key=lambda s: (first[s], s))[:LOOKED_AHEAD]:
        minutes = float(trouble.cost(here)[step]) + _two_ahead(trouble, step, open_steps)
        minutes = min(minutes, float(first[step]))
        if minutes < choice.minutes:
            choice = Choice(step, -1, minutes)
    return choice


def _two_ahead(trouble: Trouble, step: int, open_steps: Sequence[int]) -> float:
    """Return what remains after a step where the next one is chosen by its answer."""
    joint = trouble.told[step] * trouble.chance
    mass = joint.sum(axis=-1)
    live = mass > RARE
    weights, place = joint[live] / mass[live, None], int(trouble.place[step])
    left = remaining(trouble, weights, place)
    others = [s for s in open_steps if s != step]
    if others:
        few = replace(
            trouble,
            told=trouble.told[others], minutes=trouble.minutes[others],
            place=trouble.place[others],
        )  # fmt: skip
        left = np.minimum(left, one_ahead(few, weights, place).min(axis=-1))
    return float(mass[live] @ left)
