"""How many: moulds of a trial until a difference is seen, castings to cut until a thing is found.

scipy has the laws; the numbers of a trial are found by the normal approximation and then checked,
and put right, against the exact power of the test that will be made.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from diagnose.batch.statistics.cells import Floats

POWER = 0.8
LEVEL = 0.05
EXACT = 200
"""Castings a side up to which the power of a trial is enumerated, not approximated."""
MOST = 2000


@dataclass(frozen=True, slots=True)
class Trial:
    """A trial: ``castings`` and ``moulds`` on each side, and the ``power`` it then has.

    ``moulds`` with so many castings each, which are not independent: see ``trial``.
    """

    castings: int
    moulds: int
    power: float


@dataclass(frozen=True, slots=True)
class Cut:
    """Castings to cut: with ``least`` or more showing it the first cause stands.

    ``power``: chance of that where the first cause is at work; ``false``: where the second is.
    """

    castings: int
    least: int
    power: float
    false: float


def _approximate(before: float, after: float, power: float, level: float, sided: int) -> float:
    """Return castings a side by the normal law (Fleiss, Levin and Paik), without correction."""
    from scipy import stats

    far, near = stats.norm.isf(level / sided), stats.norm.ppf(power)
    middle = (before + after) / 2
    root = far * math.sqrt(2 * middle * (1 - middle))
    root += near * math.sqrt(before * (1 - before) + after * (1 - after))
    return float((root / (before - after)) ** 2)


def corrected(castings: float, before: float, after: float) -> float:
    """Return castings a side with the correction for continuity (Fleiss, Levin and Paik)."""
    off = abs(before - after)
    return castings / 4 * (1 + math.sqrt(1 + 4 / (castings * off))) ** 2


def mid_p(castings: int) -> Floats:
    """Return the one-sided mid-p of every outcome: bad of the first side by bad of the second.

    Fisher's exact test of two sides with equal castings: all tables of one total, largest first.
    """
    from scipy.special import gammaln

    count = np.arange(castings + 1)
    ways = gammaln(castings + 1) - gammaln(count + 1) - gammaln(castings - count + 1)
    total = np.arange(2 * castings + 1)
    every = gammaln(2 * castings + 1) - gammaln(total + 1) - gammaln(2 * castings - total + 1)
    second = total[:, None] - count[None, :]
    inside = (second >= 0) & (second <= castings)
    logs = ways[None, :] + ways[np.clip(second, 0, castings)] - every[:, None]
    law = np.where(inside, np.exp(logs), 0.0)
    tail = np.cumsum(law[:, ::-1], axis=1)[:, ::-1] - law / 2
    found: Floats = tail[count[:, None] + count[None, :], count[:, None]]
    return found


def exact_power(castings: int, before: float, after: float, level: float, sided: int = 1) -> float:
    """Return the chance that a trial shows the difference by Fisher's exact test with mid-p.

    Every outcome of both sides is weighed; the first side is the one expected to be worse.
    """
    from scipy import stats

    count = np.arange(castings + 1)
    seen = mid_p(castings) <= level / sided
    first, second = (
        stats.binom.pmf(count, castings, before),
        stats.binom.pmf(count, castings, after),
    )
    return float(first @ seen @ second)


def _normal_power(castings: float, before: float, after: float, level: float, sided: int) -> float:
    from scipy import stats

    middle = (before + after) / 2
    far = stats.norm.isf(level / sided) * math.sqrt(2 * middle * (1 - middle))
    error = math.sqrt(before * (1 - before) + after * (1 - after))
    return float(stats.norm.cdf((math.sqrt(castings) * abs(before - after) - far) / error))


def castings_a_side(
    before: float, after: float, *, power: float = POWER, level: float = LEVEL, sided: int = 1
) -> tuple[int, float]:
    """Return how many castings a side show the difference with the power, and that power.

    Above ``EXACT`` castings by the normal law; below, the least number whose exact power is enough
    there and at the next (power by count goes up in teeth).
    """
    worse, better = max(before, after), min(before, after)
    rough = _approximate(worse, better, power, level, sided)
    if rough > EXACT:
        castings = math.ceil(rough)
        return castings, _normal_power(castings, worse, better, level, sided)
    start = max(2, int(rough * 0.6))
    now = exact_power(start, worse, better, level, sided)
    for castings in range(start, MOST):
        following = exact_power(castings + 1, worse, better, level, sided)
        if now >= power and following >= power:
            return castings, now
        now = following
    return MOST, now


def design_effect(per_mould: float, alike: float) -> float:
    """Return by how much more castings are needed as castings of one mould are alike.

    ``alike``: correlation of two castings of one mould, 0 to 1 (Kish).
    """
    return 1 + (per_mould - 1) * alike


def trial(
    before: float,
    after: float,
    *,
    per_mould: float = 1.0,
    alike: float = 0.0,
    power: float = POWER,
    level: float = LEVEL,
) -> Trial | None:
    """Return how many moulds a side, old way and new, until the difference is seen.

    One-sided, as a trial is poured to see a rate fall. None where the rates are equal or certain.
    """
    if not (0 <= before <= 1 and 0 <= after <= 1) or before == after:
        return None
    castings, reached = castings_a_side(before, after, power=power, level=level)
    whole = castings * design_effect(per_mould, alike)
    moulds = math.ceil(whole / per_mould)
    return Trial(math.ceil(moulds * per_mould), moulds, reached)


def castings_to_find(share: float, chance: float = 0.9, lot: int | None = None) -> int | None:
    """Return how many castings to cut until one with the thing is met with the chance.

    ``share``: of castings that have it. ``lot``: castings there are in all, cut without putting
    back; none where even cutting all would not do.
    """
    from scipy import stats

    if share <= 0:
        return None
    if share >= 1:
        return 1
    count = math.ceil(math.log(1 - chance) / math.log(1 - share) - 1e-9)
    if lot is None:
        return max(1, count)
    having = round(lot * share)
    for cut in range(1, lot + 1):
        if 1 - stats.hypergeom.pmf(0, lot, having, cut) >= chance - 1e-12:
            return cut
    return None


def castings_to_cut(
    first: float, second: float, *, power: float = POWER, false: float = 0.1, most: int = 200
) -> Cut | None:
    """Return how many castings to cut to tell two causes apart by what each shows.

    ``first`` and ``second``: share of castings that show it under either cause, the first the
    larger. None where ``most`` castings do not do.
    """
    from scipy import stats

    if first <= second:
        return None
    for castings in range(1, most + 1):
        least = np.arange(1, castings + 1)
        wrong = stats.binom.sf(least - 1, castings, second)
        right = stats.binom.sf(least - 1, castings, first)
        good = np.flatnonzero((wrong <= false) & (right >= power))
        if good.size:
            at = int(good[0])
            return Cut(castings, at + 1, float(right[at]), float(wrong[at]))
    return None
