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

ROUNDS = 15
FEWEST_HERE = 20.0
"""Castings a cell must hold to be looked at."""
SCREEN = 0.05
"""p above which heats are not asked: the p given is then a little too small, and no signal."""


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


@dataclass(frozen=True, slots=True)
class Meeting:
    """Rows where two factors are known: their levels, heats, and bad castings expected."""

    first: Ints
    second: Ints
    heat: Ints
    expected: Floats


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


def _added(meeting: Meeting, cell: tuple[int, int, int], mean: Floats, chance: float) -> float:
    """Return what heats add to a cell's variance, for a between-heat variance of 1.

    The square, summed over heats, of what each adds to the four counts, every one weighted as in
    the score of the cell.
    """
    one, two, fault = cell
    table = mean[:, :, fault]
    here, row, across, whole = (
        table[one, two],
        table[one].sum(),
        table[:, two].sum(),
        table.sum(),
    )
    inverse = 1 / np.maximum([row - here, across - here, whole - row - across + here], 1e-9)
    on_row, on_column = meeting.first == one, meeting.second == two
    each = meeting.expected[:, fault]
    weight = (
        1.0 * (on_row & on_column)
        - chance * (inverse[0] + inverse[2]) * on_row
        - chance * (inverse[1] + inverse[2]) * on_column
        + chance * inverse[2]
    )
    heats = int(meeting.heat.max()) + 1
    return float((counted(meeting.heat, heats, weight * each) ** 2).sum())


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
    rows = Meeting(one.codes[keep], two.codes[keep], compact(cells.heat[keep]), each)
    known = chance > 0.05
    p = np.where(known, two_sided(found, mean, np.where(known, chance, 1.0)), 1.0)
    # Heats only make p larger, so that they are looked at where it is small.
    for cell in zip(*np.nonzero((p <= SCREEN) & (between > 0)), strict=True):
        place = (int(cell[0]), int(cell[1]), int(cell[2]))
        added = between[place[2]] * _added(rows, place, mean, float(chance[place]))
        p[place] = float(two_sided(found[place], mean[place], chance[place] + added))
    first, second = np.nonzero(castings.sum(axis=0) >= FEWEST_HERE)
    here = castings.sum(axis=0)[first, second]
    return Pairs(first, second, here, found[first, second], mean[first, second], p[first, second])
