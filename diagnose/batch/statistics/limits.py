"""Limits of the charts of counts, and the chart that fits: p or u, Laney's, or shares.

A p chart counts bad castings of so many poured; a u chart counts faults on so many castings (one
casting may have several). Both hold that castings are bad independently of each other. Where the
points differ more than that, Laney's limits are wider by ``spread``, which is sigma_z: the mean
moving range of the standardised points over 1.128 (D. B. Laney, Quality Engineering 14, 2002).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from diagnose.batch.statistics.cells import Floats
from diagnose.batch.statistics.tails import two_sided

Kind = Literal["p", "u"]

WIDTH = 3.0
RANGE = 1.128
"""Mean range of two normal values over their standard deviation (d2 of the tables)."""
FEW = 9.0
"""Expected bad castings of a typical point below which three sigma is no longer 1 in 370."""
CHANCE = 0.0027
"""Chance of a point beyond three sigma either way, where the normal law holds."""
DRAWS = 399


@dataclass(frozen=True, slots=True)
class Limits:
    """Centre, limits of every point, and how many sigma each point lies off."""

    centre: float
    low: Floats
    high: Floats
    off: Floats
    chance: Floats


def sigma(centre: float, size: Floats, kind: Kind) -> Floats:
    """Return the standard deviation by chance alone of the rate of each point."""
    variance = centre * (1 - centre) if kind == "p" else centre
    return np.sqrt(max(variance, 1e-12) / size)


def standardised(count: Floats, size: Floats, kind: Kind) -> Floats:
    """Return how many standard deviations of chance each point lies off the common rate.

    ``count`` may have leading axes: many charts of the same sizes at once.
    """
    centre = count.sum(axis=-1, keepdims=True) / size.sum()
    variance = centre * (1 - centre) if kind == "p" else centre
    off: Floats = (count / size - centre) / np.sqrt(np.maximum(variance, 1e-12) / size)
    return off


def moving_range(off: Floats) -> Floats:
    """Return sigma_z of standardised points, along the last axis."""
    if off.shape[-1] < 2:
        return np.ones(off.shape[:-1])
    ranges: Floats = np.abs(np.diff(off, axis=-1)).mean(axis=-1) / RANGE
    return ranges


def spread(count: Floats, size: Floats, kind: Kind) -> float:
    """Return sigma_z of a chart."""
    return float(moving_range(standardised(count, size, kind)))


def shewhart(
    count: Floats,
    size: Floats,
    kind: Kind,
    *,
    widened: float = 1.0,
    width: float = WIDTH,
    centre: float | None = None,
) -> Limits:
    """Return the limits of a p or u chart, ``width`` sigma either way; Laney's with ``widened``.

    ``centre``: a known rate; else that of the points themselves.
    """
    middle = float(count.sum() / size.sum()) if centre is None else centre
    each = sigma(middle, size, kind) * widened
    high = middle + width * each
    if kind == "p":
        high = np.minimum(high, 1.0)
    variance = (each * size) ** 2
    chance = two_sided(count, middle * size, variance, mid=False)
    off = (count / size - middle) / each
    return Limits(middle, np.maximum(middle - width * each, 0.0), high, off, chance)


def by_chance(
    count: Floats, size: Floats, kind: Kind, *, widened: float = 1.0, chance: float = CHANCE
) -> Limits:
    """Return limits that a point passes with at most half of ``chance`` on either side.

    For few bad castings a point: the binomial or Poisson law itself, or the negative binomial
    with the widened variance. A point *on* a limit is inside.
    """
    from scipy import stats

    plain = shewhart(count, size, kind, widened=widened)
    mean = plain.centre * size
    variance = np.maximum((sigma(plain.centre, size, kind) * widened * size) ** 2, 1e-12)
    ratio = np.maximum(variance / np.maximum(mean, 1e-12), 1e-6)
    over = ratio > 1.0
    share = np.where(over, 1 / ratio, 0.5)
    law = stats.nbinom(np.where(over, mean * share / (1 - share), 1.0), share)
    under = np.where(over, 0.5, np.clip(1 - ratio, 1e-9, 1.0))
    trials = np.maximum(np.round(mean / under), 1.0)
    tight = stats.binom(trials, under)
    loose = stats.poisson(mean)

    def at(quantile: float) -> Floats:
        exact = np.where(ratio < 1 - 1e-9, tight.ppf(quantile), loose.ppf(quantile))
        count: Floats = np.where(over, law.ppf(quantile), exact)
        return count / size

    high = at(1 - chance / 2)
    if kind == "p":
        high = np.minimum(high, 1.0)
    return Limits(plain.centre, at(chance / 2), high, plain.off, plain.chance)


def fitting(count: Floats, size: Floats, kind: Kind, *, seed: int = 0) -> float:
    """Return the spread to chart with: 1 where chance explains sigma_z, else sigma_z.

    The rule: Laney's chart is taken when sigma_z is above what 95 of 100 sheets of the same sizes
    and rate would show by chance alone, drawn ``DRAWS`` times from the binomial (p) or Poisson's
    law (u). Drawn and not looked up, as few bad castings a point make sigma_z small by itself.
    """
    found = spread(count, size, kind)
    if found <= 1.0 or len(size) < 4:
        return 1.0
    draw = np.random.default_rng(seed)
    centre = float(count.sum() / size.sum())
    if kind == "p":
        whole = np.maximum(np.round(size), 1).astype(np.int64)
        drawn = draw.binomial(whole, min(centre, 1.0), (DRAWS, len(size))).astype(float)
        by_luck = moving_range(standardised(drawn, whole.astype(float), kind))
    else:
        drawn = draw.poisson(centre * size, (DRAWS, len(size))).astype(float)
        by_luck = moving_range(standardised(drawn, size, kind))
    return found if found > float(np.quantile(by_luck, 0.95)) else 1.0


def unsure(off: Floats, points: int, widened: float) -> Floats:
    """Return the two-sided chance of points so many sigma off, sigma itself not known exactly.

    Student's law with 0.4 free values a point. A mean moving range tells as much of sigma as 0.6
    (from its variance for normal points; from memory, Cryer and Ryan 1990); rates that differ by
    heats have longer tails than normal ones, so fewer are granted. 0 where sigma is that of chance.
    """
    from scipy import stats

    if widened <= 1.0:
        return np.zeros_like(off)
    chance: Floats = 2 * stats.t.sf(np.abs(off), max(1.0, 0.4 * points))
    return chance


def smoothed(
    count: Floats,
    size: Floats,
    kind: Kind,
    *,
    weight: float = 0.2,
    width: float = WIDTH,
    widened: float = 1.0,
    centre: float | None = None,
) -> tuple[Floats, Limits]:
    """Return the EWMA of the rates and its limits, each point with its own size.

    ``weight``: of the newest point. The variance is carried along point by point, so that points
    of unequal sizes and the first points have their true limits.
    """
    middle = float(count.sum() / size.sum()) if centre is None else centre
    rate, chance = count / size, (sigma(middle, size, kind) * widened) ** 2
    values, variances = np.empty_like(rate), np.empty_like(rate)
    value, variance = middle, 0.0
    for i in range(len(rate)):
        value = weight * rate[i] + (1 - weight) * value
        variance = weight**2 * chance[i] + (1 - weight) ** 2 * variance
        values[i], variances[i] = value, variance
    each = np.sqrt(variances)
    off = (values - middle) / each
    # A mean of few counts is as skewed as a count: its tail is that of a count of so many castings
    # that mean and variance of the rate come out the same.
    whole = float((chance * size)[0]) / np.maximum(variances, 1e-300)
    surprise = two_sided(values * whole, middle * whole, variances * whole**2, mid=True)
    high = middle + width * each
    if kind == "p":
        high = np.minimum(high, 1.0)
    return values, Limits(middle, np.maximum(middle - width * each, 0.0), high, off, surprise)
