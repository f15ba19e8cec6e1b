"""How much is scrapped, and how sure that is: by count, by weight and by cost."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from diagnose.batch.statistics.cells import Floats

LEVEL = 0.95


@dataclass(frozen=True, slots=True)
class Rate:
    """A share with its interval; ``castings``: how many equal castings would tell as much."""

    rate: float
    low: float
    high: float
    castings: float


@dataclass(frozen=True, slots=True)
class Tally:
    """One fault's part of all scrap: castings, share with interval, kilograms and money."""

    count: float
    share: float
    low: float
    high: float
    weight: float | None = None
    cost: float | None = None


def interval(
    bad: ArrayLike, poured: ArrayLike, level: float = LEVEL, method: str = "wilson"
) -> tuple[Floats, Floats]:
    """Return low and high of a share. ``method``: ``wilson`` or ``beta`` (Clopper and Pearson).

    Fractions of castings are allowed. Where nothing was poured the interval is 0 to 1.
    """
    from statsmodels.stats.proportion import proportion_confint

    b, n = np.broadcast_arrays(np.asarray(bad, dtype=float), np.asarray(poured, dtype=float))
    safe = np.where(n > 0, n, 1.0)
    low, high = proportion_confint(np.where(n > 0, b, 0.0), safe, 1 - level, method)
    low = np.where((n > 0) & (b > 0), low, 0.0)
    high = np.where((n > 0) & (b < n), high, 1.0)
    return np.clip(low, 0.0, 1.0), np.clip(high, 0.0, 1.0)


def scrap_rate(
    bad: Floats,
    poured: Floats,
    worth: Floats | None = None,
    *,
    spread: float = 1.0,
    level: float = LEVEL,
) -> Rate:
    """Return the scrap rate of rows of castings, with Wilson's interval.

    ``worth``: weight in kg or cost of one casting of each row; the rate is then by weight or by
    cost, and the castings it rests on are fewer (Kish's effective number). ``spread``: variance
    between heats over that of chance, by which they are fewer again.
    """
    each = np.ones_like(poured) if worth is None else worth
    whole = float((poured * each).sum())
    if whole <= 0:
        return Rate(0.0, 0.0, 1.0, 0.0)
    castings = whole**2 / float((poured * each**2).sum()) / spread
    rate = float((bad * each).sum()) / whole
    low, high = interval(rate * castings, castings, level)
    return Rate(rate, float(low), float(high), castings)


def tallies(
    bad: Floats,
    kilograms: Floats | None = None,
    money: Floats | None = None,
    level: float = LEVEL,
) -> tuple[Tally, ...]:
    """Return every fault's part of the scrap. ``bad``: rows by faults, fractions allowed.

    ``kilograms`` and ``money``: of one casting of each row. A casting that could have two faults
    counts in part for each, and the interval takes it as if it were one or the other, which is
    a little too wide.
    """
    counts = bad.sum(axis=0)
    total = float(counts.sum())
    low, high = interval(counts, np.full_like(counts, total), level)
    share = counts / total if total > 0 else np.zeros_like(counts)

    def summed(each: Floats | None) -> list[float | None]:
        if each is None:
            return [None] * len(counts)
        return [float(x) for x in each @ bad]

    rows = zip(counts, share, low, high, summed(kilograms), summed(money), strict=True)
    return tuple(Tally(float(c), float(s), float(a), float(b), w, m) for c, s, a, b, w, m in rows)
