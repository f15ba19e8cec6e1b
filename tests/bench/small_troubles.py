"""Small searches drawn at random, with the best plan of all found by full enumeration."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np

from diagnose.engine.troubleshoot import Choice, Trouble, choose, try_order

Chooser = Callable[[Trouble, int, tuple[int, ...]], Choice]
PLACES = 3


def draw_trouble(draw: np.random.Generator, causes: int, steps: int, rest: float) -> Trouble:
    """Draw a search: steps with two answers, most of them about one cause, some about several.

    ``rest``: the share that no correction cures.
    """
    chance = draw.dirichlet(np.full(causes, 0.7)) * (1.0 - rest)
    chance = np.append(chance, rest)
    chance /= chance.sum()
    told = np.empty((steps, 2, causes + 1))
    for step in range(steps):
        about = draw.choice(causes, size=int(draw.choice([1, 1, 2, 3])), replace=False)
        bad = np.full(causes + 1, float(draw.choice([0.01, 0.03, 0.1])))
        bad[about] = draw.choice([0.5, 0.75, 0.92], size=len(about))
        told[step] = bad, 1.0 - bad
    minutes = draw.choice([1.5, 3.0, 4.0, 6.0, 11.0, 16.0], size=steps)
    place, walk = draw.integers(PLACES, size=steps), 3.0
    trial = draw.choice([20.0, 30.0, 45.0], size=causes)
    proof = proofs(chance, np.arange(causes + 1), told, minutes, place, walk)
    return Trouble(
        chance, np.arange(causes + 1), told, minutes, place, proof, trial, walk, giving_up=240.0
    )


def proofs(
    chance: np.ndarray, firsts: np.ndarray, told: np.ndarray, minutes: np.ndarray,
    place: np.ndarray, walk: float,
) -> np.ndarray:  # fmt: skip
    """Return (places, causes) the minutes of the quickest proof of each cause."""
    causes = len(firsts) - 1
    found = np.full((PLACES, causes), np.inf)
    for step in range(len(told)):
        bad = told[step, 0]
        for c in range(causes):
            others = (bad @ chance - bad[c] * chance[c]) / max(1.0 - chance[c], 1e-9)
            if bad[c] >= 0.5 and bad[c] >= 3.0 * others:
                for here in range(PLACES):
                    cost = minutes[step] + 0.5 * walk * (here != place[step])
                    found[here, c] = min(found[here, c], cost / bad[c])
    return found


def best(trouble: Trouble, here: int) -> float:
    """Return the least expected minutes that any plan can reach, by full enumeration."""
    steps, causes = len(trouble.minutes), trouble.corrections

    @cache
    def least(answers: tuple[int, ...], failed: int, place: int) -> float:
        weights = _weights(trouble, answers, failed)
        whole = float(weights.sum())
        if whole < 1e-12:
            return 0.0
        weights = weights / whole
        value = trouble.giving_up
        for c in range(causes):
            if weights[c] > 0.0:
                rest = 0.0
                if weights[c] < 1.0 - 1e-12:
                    rest = (1.0 - weights[c]) * least(answers, failed | 1 << c, place)
                value = min(value, float(trouble.trial[c]) + rest)
        for s in range(steps):
            if answers[s] < 0:
                cost = trouble.minutes[s] + trouble.walk * (trouble.place[s] != place)
                if cost >= value:
                    continue
                for a in (0, 1):
                    mass = float(trouble.told[s, a] @ weights)
                    after = (*answers[:s], a, *answers[s + 1 :])
                    cost += mass * least(after, failed, int(trouble.place[s])) if mass else 0.0
                value = min(value, float(cost))
        return value

    return least((-1,) * steps, 0, here)


def _weights(trouble: Trouble, answers: tuple[int, ...], failed: int) -> np.ndarray:
    weights = trouble.chance.copy()
    for s, a in enumerate(answers):
        if a >= 0:
            weights = weights * trouble.told[s, a]
    for c in range(trouble.corrections):
        if failed >> c & 1:
            weights[c] = 0.0
    return weights


def followed(trouble: Trouble, here: int, chooser: Chooser) -> float:
    """Return the expected minutes of following a chooser, which chooses anew at every state."""

    def value(now: Trouble, place: int, open_steps: tuple[int, ...]) -> float:
        if not open_steps:
            return try_order(now, now.chance)
        choice = chooser(now, place, open_steps)
        if choice.step >= 0:
            s, cost = choice.step, float(now.cost(place)[choice.step])
            left = tuple(other for other in open_steps if other != s)
            for a in (0, 1):
                mass = float(now.told[s, a] @ now.chance)
                if mass > 1e-12:
                    after = now.after(s, now.told[s, a])
                    cost += mass * value(after, int(now.place[s]), left)
            return cost
        if choice.correction < 0:
            return now.giving_up
        c = choice.correction
        miss = 1.0 - float(now.shares(now.chance)[c])
        cost = float(now.trial[c])
        if miss > 1e-12:
            cost += miss * value(now.after_failing(c), place, open_steps)
        return cost

    return value(trouble, here, tuple(range(len(trouble.minutes))))


def by_information(trouble: Trouble, here: int, open_steps: tuple[int, ...]) -> Choice:
    """Choose by bits a minute until one correction has 0.8 or nothing tells more; then try."""
    shares = trouble.shares(trouble.chance)
    first = int(np.argmax(shares))
    trial = Choice(-1, first if shares[first] > 0.0 else -1, 0.0)
    if shares[first] >= 0.8:
        return trial
    rates = [_bits(trouble, s) / float(trouble.cost(here)[s]) for s in open_steps]
    best_step = int(np.argmax(rates))
    return Choice(open_steps[best_step], -1, 0.0) if rates[best_step] > 0.001 else trial


def _bits(trouble: Trouble, step: int) -> float:
    joint = trouble.told[step] * trouble.chance
    given = joint.sum(axis=1)[:, None] * trouble.chance
    seen = joint > 0.0
    return float((joint[seen] * np.log2(joint[seen] / given[seen])).sum())


def by_plan(trouble: Trouble, here: int, open_steps: tuple[int, ...]) -> Choice:
    """Choose as the program does."""
    return choose(trouble, here, open_steps)
