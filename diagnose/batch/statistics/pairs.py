"""Two factors together: faults more frequent where both meet than the two parts say.

The rate of a cell is taken as pattern times one factor times the other, fitted by proportional
fitting; what is found beyond that belongs to the meeting of the two. So a plate that is bad with
every core maker makes no pair, and a plate that is bad with one does.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from diagnose.batch.statistics.cells import Cells, Factor, Floats, Ints, compact, counted, grouped
from diagnose.batch.statistics.tails import two_sided

ROUNDS = 25
FEWEST_HERE = 20.0
"""Castings a cell must hold to be looked at."""


@dataclass(frozen=True, slots=True)
class Pairs:
    """Cells of two factors: ``first`` and ``second`` level of each, castings, and by fault p.

    ``found`` and ``mean``: bad castings and what the parts say; ``p`` beyond the parts.
    """

    first: Ints
    second: Ints
    poured: Floats
    found: Floats
    mean: Floats
    p: Floats


def _fitted(poured: Floats, bad: Floats) -> Floats:
    """Return expected counts, patterns by a by b by faults, with the margins of all three met."""
    mean = np.broadcast_to(poured[..., None], bad.shape).copy()
    margins = [bad.sum(axis=axes) for axes in ((1, 2), (0, 2), (0, 1))]
    for _ in range(ROUNDS):
        for place, margin in enumerate(margins):
            axes = tuple(x for x in range(3) if x != place)
            now = mean.sum(axis=axes)
            factor = np.where(now > 1e-12, margin / np.maximum(now, 1e-12), 0.0)
            shape = [1, 1, 1, factor.shape[1]]
            shape[place] = factor.shape[0]
            mean *= factor.reshape(shape)
    return mean


def _information(mean: Floats, rows: Floats, across: Floats) -> Floats:
    """Return the variance of a cell, given the margins: 1 over the sum of 1 over the four."""
    whole = rows.sum(axis=0)
    a, b = rows[:, None], across[None]
    four = (mean, a - mean, b - mean, whole[None, None] - a - b + mean)
    least = np.minimum.reduce(four)
    inverse = np.sum([1 / np.maximum(x, 1e-9) for x in four], axis=0)
    found: Floats = np.where(least > 1e-6, 1 / inverse, 0.0)
    return found


def _heats(by_heat: Floats, mean: Floats, chance: Floats) -> Floats:
    """Return what heats add: the square, summed, of the four cells' weighted expectations.

    ``by_heat``: heats by a by b, for one fault.
    """
    rows, across, whole = mean.sum(axis=1), mean.sum(axis=0), mean.sum()
    a, b = rows[:, None], across[None]
    ha, hb = by_heat.sum(axis=2)[:, :, None], by_heat.sum(axis=1)[:, None, :]
    hw = by_heat.sum(axis=(1, 2))[:, None, None]
    four = (
        by_heat / np.maximum(mean, 1e-9),
        -(ha - by_heat) / np.maximum(a - mean, 1e-9),
        -(hb - by_heat) / np.maximum(b - mean, 1e-9),
        (hw - ha - hb + by_heat) / np.maximum(whole - a - b + mean, 1e-9),
    )
    score = chance * np.sum(four, axis=0)
    squares: Floats = (score**2).sum(axis=0)
    return squares


def pair(cells: Cells, one: Factor, two: Factor, between: Floats) -> Pairs | None:
    """Return the cells of two factors with enough castings; none where the two never cross."""
    keep = (one.codes >= 0) & (two.codes >= 0) & (cells.poured > 0)
    if not keep.any():
        return None
    a, b, faults = len(one.levels), len(two.levels), len(cells.faults)
    split = one.stratified and two.stratified
    layer = compact(cells.stratum[keep]) if split else np.zeros(int(keep.sum()), dtype=np.int64)
    groups, poured, bad = int(layer.max()) + 1, cells.poured[keep], cells.bad[keep]
    meeting = one.codes[keep] * b + two.codes[keep]
    key = layer * a * b + meeting
    castings = counted(key, groups * a * b, poured).reshape(groups, a, b)
    counts = grouped(key, groups * a * b, bad).reshape(groups, a, b, faults)
    fitted = _fitted(castings, counts)
    mean, found = fitted.sum(axis=0), counts.sum(axis=0)
    chance = _information(mean, mean.sum(axis=1), mean.sum(axis=0))
    rate = fitted / np.maximum(castings, 1e-12)[..., None]
    each = poured[:, None] * rate.reshape(-1, faults)[key]
    heat = compact(cells.heat[keep])
    heats = int(heat.max()) + 1
    added = np.zeros_like(chance)
    for fault in np.flatnonzero(between > 0):
        sums = counted(heat * a * b + meeting, heats * a * b, each[:, fault])
        by_heat = sums.reshape(heats, a, b)
        added[:, :, fault] = between[fault] * _heats(
            by_heat, mean[:, :, fault], chance[:, :, fault]
        )
    known = chance > 0.05
    p = np.where(known, two_sided(found, mean, np.where(known, chance + added, 1.0)), 1.0)
    first, second = np.nonzero(castings.sum(axis=0) >= FEWEST_HERE)
    here = castings.sum(axis=0)[first, second]
    return Pairs(first, second, here, found[first, second], mean[first, second], p[first, second])
