"""How surprising a count is, and what is left of that when many counts are looked at."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from diagnose.batch.statistics.cells import Floats

SMALL = 1e-12


def at_least(count: ArrayLike, mean: ArrayLike, variance: ArrayLike) -> Floats:
    """Return the chance of ``count`` or more, where ``mean`` is expected with a ``variance``.

    Binomial below the variance of Poisson's law, negative binomial above it, both with their two
    moments matched; exact where the law is binomial, Poisson or negative binomial. Fractions
    are allowed for: between whole numbers the incomplete beta function interpolates.
    """
    from scipy import special

    k, m, v = np.broadcast_arrays(*(np.asarray(x, dtype=float) for x in (count, mean, variance)))
    m = np.maximum(m, SMALL)
    ratio = np.clip(v / m, 1e-6, None)
    under, over = ratio < 1 - 1e-6, ratio > 1 + 1e-6
    k = np.maximum(k, SMALL)
    share = np.where(under, 1 - ratio, 0.5)
    trials = np.where(under, m / share, 1.0)
    binomial = special.betainc(k, np.maximum(trials - k + 1, SMALL), share)
    binomial = np.where(k >= trials + 1, 0.0, binomial)
    size = m / np.where(over, ratio - 1, 1.0)
    negative = special.betainc(k, size, np.where(over, 1 - 1 / ratio, 0.5))
    tail = np.where(under, binomial, np.where(over, negative, special.gammainc(k, m)))
    found: Floats = np.where(k <= 2 * SMALL, 1.0, tail)
    return found


def two_sided(
    count: ArrayLike, mean: ArrayLike, variance: ArrayLike, *, mid: bool = True
) -> Floats:
    """Return the two-sided p of a count: twice the smaller tail, at most 1.

    ``mid``: only half the chance of the very count belongs to each tail (mid-p).
    """
    here = at_least(count, mean, variance)
    beyond = at_least(np.asarray(count, dtype=float) + 1, mean, variance)
    if mid:
        upper = (here + beyond) / 2
        lower = 1 - upper
    else:
        upper, lower = here, 1 - beyond
    found: Floats = np.minimum(1.0, 2 * np.minimum(upper, lower))
    return found


def skewed(count: ArrayLike, mean: ArrayLike, variance: ArrayLike, third: ArrayLike) -> Floats:
    """Return the two-sided mid-p of a count whose first three moments are known.

    Pearson's third type, a shifted gamma law. ``third``: third central moment. For what has
    bounds on both sides, such as bad castings where most are bad; no continuity correction, as a
    mid-p has none. In far tails it gives too much rather than too little.
    """
    from scipy import special

    parts = (np.asarray(x, dtype=float) for x in (count, mean, variance, third))
    k, m, v, t = np.broadcast_arrays(*parts)
    v = np.maximum(v, SMALL)
    z, skew = (k - m) / np.sqrt(v), t / v**1.5
    shape = 4 / np.maximum(skew**2, 1e-6)
    place = np.maximum(shape + np.sign(skew) * z * np.sqrt(shape), 0.0)
    right, left = special.gammaincc(shape, place), special.gammainc(shape, place)
    upper = np.where(np.abs(skew) < 1e-3, special.ndtr(-z), np.where(skew > 0, right, left))
    lower = np.where(np.abs(skew) < 1e-3, special.ndtr(z), np.where(skew > 0, left, right))
    found: Floats = np.minimum(1.0, 2 * np.minimum(upper, lower))
    return found


def false_discovery(p: ArrayLike, weights: ArrayLike | None = None) -> Floats:
    """Return q for every p of a family, after Benjamini and Hochberg.

    ``weights``: how much of the error each test may spend, with mean 1 (Genovese, Roeder and
    Wasserman 2006); all alike where none are given.
    """
    from scipy import stats

    chances = np.asarray(p, dtype=float)
    if weights is not None:
        chances = np.minimum(1.0, chances / np.asarray(weights, dtype=float))
    if not chances.size:
        return chances
    adjusted: Any = stats.false_discovery_control(chances, method="bh")
    return np.asarray(adjusted, dtype=float)
