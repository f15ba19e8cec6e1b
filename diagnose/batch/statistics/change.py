"""When did the rate of a fault change: the likelihood of a step at every day, and its dates.

The p is by permutation of the points, each with its castings: that days differ by more than
chance, whatever the reason, is in the permuted series as well, so that it is no step. Slow drift
is, as it is not exchangeable; a chart (EWMA) tells the two apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from diagnose.batch.result import Change
from diagnose.batch.statistics.cells import Floats
from diagnose.batch.statistics.limits import Kind
from diagnose.batch.statistics.tails import false_discovery

MARGIN = 4
"""Points on either side of a step at least: fewer are a bad day, which the charts show."""
DRAWS = 1999
RATE = 0.05
FURTHER = 0.01
"""p that a further step, before or after the strongest one, may have at most."""
BLOCK = 200


@dataclass(frozen=True, slots=True)
class Step:
    """A step before the point ``at``; ``first`` to ``last``: where it may be instead (95 %).

    ``twice``: twice the gain in log likelihood. ``spread``: variance of the points within the two
    parts over that of chance.
    """

    at: int
    first: int
    last: int
    before: float
    after: float
    twice: float
    spread: float
    p: float


def _likelihood(bad: Floats, size: Floats, kind: Kind) -> Floats:
    """Return the log likelihood of the best rate for so many of so many."""
    from scipy.special import xlogy

    rate = bad / np.maximum(size, 1e-12)
    if kind == "u":
        poisson: Floats = xlogy(bad, rate) - bad
        return poisson
    binomial: Floats = xlogy(bad, rate) + xlogy(size - bad, 1 - rate)
    return binomial


def scan(bad: Floats, size: Floats, kind: Kind = "p", margin: int = MARGIN) -> Floats:
    """Return twice the gain in log likelihood of a step before each point but the first.

    Along the last axis; charts along the others. Within ``margin`` of the ends it is -inf.
    """
    left, of = np.cumsum(bad, axis=-1), np.cumsum(size, axis=-1)
    whole, poured = left[..., -1:], of[..., -1:]
    left, of = left[..., :-1], of[..., :-1]
    parts = _likelihood(left, of, kind) + _likelihood(whole - left, poured - of, kind)
    gain = 2 * (parts - _likelihood(whole, poured, kind))
    place = np.arange(1, bad.shape[-1])
    outside = (place < margin) | (bad.shape[-1] - place < margin)
    found: Floats = np.where(outside, -np.inf, gain)
    return found


def _permuted(bad: Floats, size: Floats, kind: Kind, draws: int, seed: int) -> Floats:
    """Return the largest gain of permuted series, ``draws`` by faults."""
    draw = np.random.default_rng(seed)
    best = []
    for start in range(0, draws, BLOCK):
        many = min(BLOCK, draws - start)
        order = draw.permuted(np.tile(np.arange(len(size)), (many, 1)), axis=1)
        moved, sizes = bad[:, order].swapaxes(0, 1), size[order][:, None, :]
        best.append(scan(moved, np.broadcast_to(sizes, moved.shape), kind).max(axis=-1))
    return np.concatenate(best)


def _within(bad: Floats, size: Floats, at: int, kind: Kind) -> float:
    """Return the variance of the points within the two parts over that of chance, at least 1."""
    total = 0.0
    for part in (slice(0, at), slice(at, None)):
        rate = bad[part].sum() / max(size[part].sum(), 1e-12)
        variance = size[part] * rate * ((1 - rate) if kind == "p" else 1.0)
        total += float(((bad[part] - size[part] * rate) ** 2 / np.maximum(variance, 1e-12)).sum())
    return max(1.0, total / max(len(size) - 2, 1))


def _dates(gain: Floats, spread: float, level: float) -> tuple[int, int]:
    """Return the first and last place of the likeliest places that together hold ``level``."""
    weight = np.exp((gain - gain.max()) / (2 * spread))
    order = np.argsort(-weight)
    held = np.cumsum(weight[order]) / weight.sum()
    inside = order[: int(np.searchsorted(held, level)) + 1]
    return int(inside.min()) + 1, int(inside.max()) + 1


def steps(
    bad: Floats,
    size: Floats,
    kind: Kind = "p",
    *,
    draws: int = DRAWS,
    seed: int = 0,
    level: float = 0.95,
) -> tuple[Step, ...]:
    """Return the best step of each fault, significant or not. ``bad``: faults by points."""
    gain = scan(bad, np.broadcast_to(size, bad.shape), kind)
    best = gain.max(axis=-1)
    beaten = (_permuted(bad, size, kind, draws, seed) >= best - 1e-9).sum(axis=0)
    found = []
    for i, row in enumerate(gain):
        at = int(row.argmax()) + 1
        spread = _within(bad[i], size, at, kind)
        first, last = _dates(row, spread, level)
        before = float(bad[i, :at].sum() / size[:at].sum())
        after = float(bad[i, at:].sum() / size[at:].sum())
        p = (1 + int(beaten[i])) / (draws + 1)
        found.append(Step(at, first, last, before, after, float(best[i]), spread, p))
    return tuple(found)


def _places(bad: Floats, size: Floats, kind: Kind, step: Step, start: int) -> list[int]:
    """Return the place of a step and of those in the parts before and after it, in order."""
    found = [start + step.at]
    for part, first in ((slice(0, step.at), start), (slice(step.at, None), start + step.at)):
        some, of = bad[part], size[part]
        if len(of) >= 3 * MARGIN and some.sum() > 0:
            (best,) = steps(some[None], of, kind)
            if best.p <= FURTHER:
                found += _places(some, of, kind, best, first)
    return sorted(found)


def _refined(
    bad: Floats, size: Floats, kind: Kind, places: Sequence[int]
) -> list[tuple[int, Step]]:
    """Return the steps dated anew, each between its neighbours, without those that do not hold."""
    edges = [0, *places, len(size)]
    found = []
    for i in range(1, len(edges) - 1):
        part = slice(edges[i - 1], edges[i + 1])
        (best,) = steps(bad[part][None], size[part], kind)
        if best.p <= RATE:
            found.append((edges[i - 1], best))
    return found


def changes(
    faults: Sequence[str],
    at: Sequence[date],
    bad: Floats,
    size: Floats,
    kind: Kind = "p",
    *,
    rate: float = RATE,
    draws: int = DRAWS,
) -> tuple[Change, ...]:
    """Return the steps of the faults that are no chance, strongest first.

    ``bad``: points by faults. Benjamini and Hochberg over the strongest step of each fault; further
    ones need a p of ``FURTHER``. Where there are several, each is dated between its neighbours.
    ``between``: the first day of the new rate lies between the two days with 95 %.
    """
    keep = size > 0
    days = [x for x, kept in zip(at, keep, strict=True) if kept]
    counts, sizes = bad[keep].T, size[keep]
    if len(days) < 3 * MARGIN:
        return ()
    best = steps(counts, sizes, kind, draws=draws)
    q = false_discovery([x.p for x in best])
    found: list[Change] = []
    for i in np.argsort([x.p for x in best], kind="stable"):
        if q[i] <= rate and counts[i].sum() > 0:
            places = _places(counts[i], sizes, kind, best[i], 0)
            for start, x in _refined(counts[i], sizes, kind, places):
                dates = (days[start + x.first], days[start + x.last])
                found.append(Change(faults[int(i)], dates, x.before, x.after, x.p))
    return tuple(found)
