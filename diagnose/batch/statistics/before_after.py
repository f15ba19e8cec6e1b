"""Did it work: the rate before and after, pattern by pattern, and how sure that is.

Each pattern's rate has a beta distribution before and another after. Both start from the pattern's
own rate over both times, worth one casting, which leans to "nothing changed"; both times are then
compared on the same mix of patterns. That castings of one heat go together is allowed for by
counting fewer castings (``spread``).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from diagnose.batch.statistics.cells import Bools, Factor, Floats, Ints, compact, counted, grouped
from diagnose.batch.statistics.stratified import tables
from diagnose.batch.statistics.tails import false_discovery

DRAWS = 20_000
SETTLED = 0.975
"""Probability of a fall (or of a rise) from which on it is settled."""
POWER = 0.8
PRIOR = 1.0
"""Castings that the common rate of a pattern counts for."""
QUANTILES = (0.5, 0.025, 0.975)


@dataclass(frozen=True, slots=True)
class Side:
    """Castings of each pattern before or after: ``bad`` is patterns by faults."""

    bad: Floats
    poured: Floats


@dataclass(frozen=True, slots=True)
class Compared:
    """One fault before and after, on the same mix of patterns.

    ``fell``: probability that the rate fell. ``ratio``: after over before, with the interval in
    which it lies with 95 %. ``difference``: after less before, likewise. ``more``: further castings
    until it is settled, if the rates stay as they were seen; 0 where it is, none where no number of
    castings would settle it, because what is known of before does not allow it. ``p`` and ``q``:
    of a change either way, q with all faults allowed for.
    """

    defect: str
    before: float
    after: float
    fell: float
    ratio: float
    low: float
    high: float
    difference: float
    difference_low: float
    difference_high: float
    more: int | None
    p: float
    q: float


def _drawn(bad: Floats, poured: Floats, prior: Floats, draw: np.random.Generator) -> Floats:
    """Return rates drawn for each pattern. ``prior``: bad castings of the one that it is worth."""
    a, b = bad + prior * PRIOR, np.maximum(poured - bad, 0.0) + (1 - prior) * PRIOR
    return draw.beta(np.maximum(a, 1e-6), np.maximum(b, 1e-6), (DRAWS, len(bad)))


def posterior(
    before: Side, after: Side, fault: int, *, spread: float = 1.0, seed: int = 0
) -> tuple[Floats, Floats]:
    """Return ``DRAWS`` rates before and after of a fault, on the mix of patterns poured in both.

    Patterns poured on one side only tell nothing of a change and are left out.
    """
    both = (before.poured > 0) & (after.poured > 0)
    old, new = before.poured[both], after.poured[both]
    was, now = before.bad[both, fault], after.bad[both, fault]
    if not both.any():
        return np.full(DRAWS, 0.5), np.full(DRAWS, 0.5)
    whole = (was.sum() + now.sum()) / (old + new).sum()
    own = (was + now + whole) / (old + new + 1.0)
    draw = np.random.default_rng(seed)
    mix = (old + new) / (old + new).sum()
    first = _drawn(was / spread, old / spread, own, draw) @ mix
    return first, _drawn(now / spread, new / spread, own, draw) @ mix


def more_castings(
    before: float, after: float, old: float, new: float, spread: float = 1.0, power: float = POWER
) -> int | None:
    """Return how many more castings must be poured until such a change is settled.

    ``old`` and ``new`` castings were seen; the rates are taken to stay. With the chance ``power``
    the logarithm of their ratio then lies 1.96 errors from 0; none where ``old`` is too few.
    """
    from scipy import stats

    if before <= 0 or before == after:
        return None
    # None bad after: half a casting, or half the rate before, as the logarithm needs a rate.
    lower = after if after > 0 else min(0.5 / max(new, 1.0), before / 2)
    need = float(stats.norm.ppf(SETTLED) + stats.norm.ppf(power))
    allowed = (math.log(lower / before) / need) ** 2
    left = allowed - spread * (1 - before) / (before * max(old, 1e-12))
    if left <= 0:
        return None
    return max(0, math.ceil(spread * (1 - lower) / (lower * left) - new))


def _stratified_p(before: Side, after: Side, spread: Floats) -> Floats:
    """Return p of a change of every fault: Mantel and Haenszel's, mid-p, over the patterns."""
    patterns = len(before.poured)
    poured = np.concatenate([before.poured, after.poured])
    bad = np.concatenate([before.bad, after.bad])
    layer = np.tile(np.arange(patterns), 2)
    side = Factor("time", ("before", "after"), np.repeat([0, 1], patterns).astype(np.int64))
    own, none = np.arange(2 * patterns), np.zeros(1)
    found = [
        tables(bad[:, i : i + 1] / wide, poured / wide, layer, own, side, none).p[0, 0]
        for i, wide in enumerate(spread)
    ]
    return np.array(found)


def compared(
    faults: Sequence[str], before: Side, after: Side, *, spread: Floats | None = None, seed: int = 0
) -> tuple[Compared, ...]:
    """Return every fault before and after. ``spread``: variance between heats over chance, 1 up.

    Those with ``ratio`` above 1 and a small ``q`` rose meanwhile.
    """
    wide = np.ones(len(faults)) if spread is None else np.maximum(spread, 1.0)
    p = _stratified_p(before, after, wide)
    q = false_discovery(p)
    both = (before.poured > 0) & (after.poured > 0)
    old, new = float(before.poured[both].sum()), float(after.poured[both].sum())
    found = []
    for i, name in enumerate(faults):
        first, second = posterior(before, after, i, spread=float(wide[i]), seed=seed)
        fell = float((second < first).mean() + (second == first).mean() / 2)
        ratio, low, high = np.quantile(second / first, QUANTILES).tolist()
        off, least, most = np.quantile(second - first, QUANTILES).tolist()
        rates = float(first.mean()), float(second.mean())
        sure = max(fell, 1 - fell) >= SETTLED
        more = 0 if sure else more_castings(*rates, old, new, float(wide[i]))
        change = (fell, ratio, low, high, off, least, most)
        found.append(Compared(name, *rates, *change, more, float(p[i]), float(q[i])))
    return tuple(found)


def sides(bad: Floats, poured: Floats, pattern: Ints, later: Bools) -> tuple[Side, Side]:
    """Return rows of castings as patterns before and after. ``later``: which rows come after."""
    layer = compact(pattern)
    groups = int(layer.max(initial=0)) + 1

    def side(keep: Bools) -> Side:
        some = layer[keep]
        return Side(grouped(some, groups, bad[keep]), counted(some, groups, poured[keep]))

    return side(~later), side(later)
