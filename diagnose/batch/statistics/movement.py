"""Which reading moves with which fault: scores for all, logistic regression for those that matter.

Every reading, lag and fault gets a score test within patterns with heats allowed for, all at once.
For those that hold statsmodels fits a logistic regression with the patterns as strata and errors
robust by cluster; it gives the odds ratio for one usual step of the reading.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from diagnose.batch.result import Dose, Movement
from diagnose.batch.statistics.cells import Cells, Floats, Ints, compact, counted, grouped
from diagnose.batch.statistics.heats import between_heats, expected
from diagnose.batch.statistics.tails import false_discovery

RATE = 0.05
LAGS = 3
ENOUGH = 10.0
"""Bad castings that must stand beside a reading to look at the two together."""
BANDS = 6
NORMAL = 1.959964


@dataclass(frozen=True, slots=True)
class Reading:
    """A quantity read in the shop, in order of time; ``nan`` where it was not read.

    ``per``: one usual step of it, in ``unit``, for the odds ratio; 0: its standard deviation.
    """

    quantity: str
    name: str
    unit: str
    values: Floats
    per: float = 0.0


def usual_step(reading: Reading) -> float:
    """Return the step that the odds ratio is for: what is said, else one standard deviation."""
    if reading.per > 0:
        return reading.per
    step = float(np.nanstd(reading.values))
    return float(f"{step:.2g}") if step > 0 else 1.0


def lagged(reading: Reading, at: Ints, lag: int) -> Floats:
    """Return the reading that belongs to each row of castings, ``lag`` readings before its own.

    ``at``: which reading was the last before each row was poured, -1 where there is none.
    """
    place = at - lag
    known = (at >= 0) & (place >= 0)
    found: Floats = np.where(known, reading.values[np.maximum(place, 0)], np.nan)
    return found


def clusters(cells: Cells, at: Ints) -> Ints:
    """Return what rows share: the heat, or the reading where one reading serves several heats."""
    heats, readings = len(np.unique(cells.heat)), len(np.unique(at))
    return compact(at if readings < heats else cells.heat)


def _centred(values: Floats, weight: Floats, layer: Ints) -> Floats:
    groups = int(layer.max(initial=0)) + 1
    sums = counted(layer, groups, values * weight)
    mean = sums / np.maximum(counted(layer, groups, weight), 1e-12)
    centred: Floats = values - mean[layer]
    return centred


def scores(cells: Cells, values: Floats, cluster: Ints) -> tuple[Floats, Floats]:
    """Return of every fault the standardised score for a reading, and its two-sided p.

    Rows without a reading are left out. Too few bad castings, or no spread of the reading within
    patterns, give p = 1.
    """
    from scipy import stats

    known = np.isfinite(values) & (cells.poured > 0)
    some = cells.only(known)
    if len(np.unique(values[known])) < 3:
        return np.zeros(len(cells.faults)), np.ones(len(cells.faults))
    shared = Cells(some.faults, some.bad, some.poured, some.stratum, cluster[known])
    mean = expected(shared)
    rate = mean / some.poured[:, None]
    off = _centred(values[known], some.poured, compact(some.stratum))
    score = off @ (some.bad - mean)
    chance = (off**2) @ (mean * (1 - rate))
    group = compact(cluster[known])
    by_cluster = grouped(group, int(group.max()) + 1, off[:, None] * mean)
    between = between_heats(shared)
    variance = chance + between * (by_cluster**2).sum(axis=0)
    usable = (some.bad.sum(axis=0) >= ENOUGH) & (variance > 1e-12)
    z = np.where(usable, score / np.sqrt(np.where(usable, variance, 1.0)), 0.0)
    # A spread that had to be found from so many clusters is known no better than that.
    free = np.where(between > 0, max(1, len(by_cluster) - 1), 1e9)
    return z, np.where(usable, 2 * stats.t.sf(np.abs(z), free), 1.0)


def logistic(
    bad: Floats, poured: Floats, values: Floats, layer: Ints, cluster: Ints
) -> tuple[float, float]:
    """Return the logarithm of the odds ratio per unit of a reading, and its robust error.

    A binomial model with one level a pattern; patterns with none or all bad tell nothing and are
    left out. ``nan`` where no fit is found.
    """
    import statsmodels.api as sm

    sums = np.bincount(layer, bad), np.bincount(layer, poured)
    tells = (sums[0] > 0) & (sums[0] < sums[1])
    keep = tells[layer]
    own = compact(layer[keep])
    strata = np.eye(int(own.max(initial=-1)) + 1)[own]
    middle = values[keep].mean() if keep.any() else 0.0
    scale = values[keep].std() if keep.any() else 0.0
    if not scale > 0:
        return math.nan, math.nan
    design = np.column_stack([(values[keep] - middle) / scale, strata])
    counts = np.column_stack([bad[keep], poured[keep] - bad[keep]])
    model = sm.GLM(counts, design, family=sm.families.Binomial())
    groups = compact(cluster[keep])
    kind = "cluster" if groups.max() > 1 else "HC0"
    fit = model.fit(cov_type=kind, cov_kwds={"groups": groups} if kind == "cluster" else None)
    return float(fit.params[0] / scale), float(fit.bse[0] / scale)


def dose_curve(bad: Floats, poured: Floats, values: Floats, bands: int = BANDS) -> tuple[Dose, ...]:
    """Return bad of poured castings in bands of a reading with about equal castings."""
    known = np.isfinite(values) & (poured > 0)
    x, b, n = values[known], bad[known], poured[known]
    order = np.argsort(x, kind="stable")
    whole = np.cumsum(n[order]) / max(float(n.sum()), 1e-12)
    cuts = [
        x[order][min(int(np.searchsorted(whole, i / bands)), len(x) - 1)] for i in range(1, bands)
    ]
    edges = np.unique([c for c in cuts if c > x.min()])
    band = np.searchsorted(edges, x, side="right")
    found = []
    for i in range(len(edges) + 1):
        here = band == i
        if here.any():
            sums = float(b[here].sum()), float(n[here].sum())
            found.append(Dose(float(x[here].min()), float(x[here].max()), *sums))
    return tuple(found)


def _movement(
    cells: Cells, reading: Reading, at: Ints, lag: int, fault: int, p: float, q: float
) -> Movement | None:
    values = lagged(reading, at, lag)
    known = np.isfinite(values) & (cells.poured > 0)
    bad, poured = cells.bad[known, fault], cells.poured[known]
    layer, cluster = compact(cells.stratum[known]), clusters(cells, at)[known]
    slope, error = logistic(bad, poured, values[known], layer, cluster)
    if not math.isfinite(slope) or not math.isfinite(error):
        return None
    per = usual_step(reading)
    ratio, low, high = (math.exp(per * (slope + x * error)) for x in (0.0, -NORMAL, NORMAL))
    names = (reading.quantity, reading.name, cells.faults[fault])
    curve = dose_curve(bad, poured, values[known])
    return Movement(*names, ratio, low, high, lag, p, q, per, reading.unit, curve)


def movements(
    cells: Cells, readings: Sequence[Reading], at: Ints, *, lags: int = LAGS, rate: float = RATE
) -> tuple[Movement, ...]:
    """Return which readings move with which faults, strongest first.

    The best lag of 0 to ``lags`` pays for all of them (its p times their number); Benjamini and
    Hochberg over readings and faults.
    """
    if not readings:
        return ()
    cluster = clusters(cells, at)
    tried = [
        [scores(cells, lagged(x, at, lag), cluster)[1] for lag in range(lags + 1)] for x in readings
    ]
    chances = np.array(tried)
    best = chances.argmin(axis=1)
    p = np.minimum(1.0, chances.min(axis=1) * (lags + 1))
    q = false_discovery(p.ravel()).reshape(p.shape)
    found = []
    for which, fault in np.argwhere(q <= rate):
        numbers = (float(p[which, fault]), float(q[which, fault]))
        lag = int(best[which, fault])
        made = _movement(cells, readings[which], at, lag, int(fault), *numbers)
        if made is not None:
            found.append(made)
    return tuple(sorted(found, key=lambda x: x.p))
