"""One level against the others within patterns: Mantel and Haenszel's sums, thousands at once.

statsmodels' ``StratifiedTable`` does one table at a time; a sheet has thousands, so the same sums
are taken here over arrays, and the tests hold them to statsmodels and to published tables.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from diagnose.batch.statistics.cells import Factor, Floats, Ints, compact, counted, grouped
from diagnose.batch.statistics.tails import skewed, two_sided

UNLIKE = 0.2
"""Difference of third moments, in variances, above which the law of a count does not fit."""
NORMAL = 1.959964
"""Standard normal value that 95 % lie within, either way."""


@dataclass(frozen=True, slots=True)
class Tables:
    """Sums over the patterns, one row a level (or cut) and one column a fault.

    ``found``, ``mean``, ``variance`` and ``third`` central moment of the bad castings there, by
    chance; ``heats``: what heats add to the variance. ``ratio`` of the rates with its ``error`` in
    logarithm, by chance alone. ``poured`` there, ``elsewhere``, ``bad_elsewhere``: plain sums.
    """

    found: Floats
    mean: Floats
    variance: Floats
    third: Floats
    heats: Floats
    ratio: Floats
    error: Floats
    poured: Floats
    elsewhere: Floats
    bad_elsewhere: Floats

    @property
    def p(self) -> Floats:
        """Two-sided mid-p with heats allowed for; 1 where patterns leave nothing to compare.

        By the count's own law where its skew is that of one (few of many are bad), else by the
        law of its three moments.
        """
        known = self.variance > 1e-9
        chance, mean = np.where(known, self.variance, 1.0), np.maximum(self.mean, 1e-9)
        whole = np.where(known, self.variance + self.heats, 1.0)
        p = two_sided(self.found, mean, whole)
        own = chance * (2 * chance / mean - 1)
        third = self.third + self.heats * (3 * chance + 2 * self.heats) / mean
        other = np.abs(self.third - own) > UNLIKE * chance
        p = np.where(other, skewed(self.found, mean, whole, third), p)
        return np.where(known, p, 1.0)

    def interval(self, row: int, fault: int) -> tuple[float, float, float]:
        """Return the ratio of the rates, low and high (95 %), with heats allowed for."""
        variance = max(float(self.variance[row, fault]), 1e-12)
        wider = np.sqrt(1.0 + float(self.heats[row, fault]) / variance)
        ratio, error = float(self.ratio[row, fault]), float(self.error[row, fault] * wider)
        return ratio, ratio * math.exp(-NORMAL * error), ratio * math.exp(NORMAL * error)


def columns(factor: Factor) -> tuple[Floats, tuple[tuple[str, str], ...]]:
    """Return the levels (rows) of each test (columns), and the names of either side.

    Each level against the rest; of an ordered factor every cut, "from here on" against before; of
    two levels one test, as the other is its mirror.
    """
    names, count = factor.levels, len(factor.levels)
    if factor.ordered and count > 2:
        cuts = range(1, count)
        matrix = np.array([[float(level >= cut) for cut in cuts] for level in range(count)])
        return matrix, tuple((f"{names[c]} and later", _before(names, c)) for c in cuts)
    if count == 2:
        return np.array([[0.0], [1.0]]), ((names[1], names[0]),)
    return np.eye(count), tuple((x, f"not {x}") for x in names)


def _before(names: tuple[str, ...], cut: int) -> str:
    return names[0] if cut == 1 else f"up to {names[cut - 1]}"


def _ratios(bad: Floats, rest: Floats, here: Floats, there: Floats) -> tuple[Floats, Floats]:
    """Return Mantel and Haenszel's ratio of rates and its error (Greenland and Robins 1985).

    ``bad``, ``rest``: patterns by tests by faults; ``here``, ``there``: castings, patterns by
    tests. Where one side has none bad, half a casting is added to either, as is usual.
    """
    n1, n0 = here[:, :, None], there[:, :, None]
    whole = np.maximum(n1 + n0, 1e-12)
    top, bottom = (bad * n0 / whole).sum(axis=0), (rest * n1 / whole).sum(axis=0)
    both = ((bad + rest) * n1 * n0 - bad * rest * whole) / whole**2
    none = (top <= 1e-9) | (bottom <= 1e-9)
    product = np.where(none, 1.0, top * bottom)
    ratio = np.where(none, 1.0, top) / np.where(none, 1.0, bottom)
    error = np.sqrt(np.maximum(both.sum(axis=0), 0.0) / product)
    # With none bad on one side: found over expected, each with half a casting more.
    rate = (bad + rest).sum(axis=0), (n1 / whole * (bad + rest)).sum(axis=0)
    one, two = bad.sum(axis=0) + 0.5, rest.sum(axis=0) + 0.5
    crude = (one / (rate[1] + 0.5)) / (two / (rate[0] - rate[1] + 0.5))
    return np.where(none, crude, ratio), np.where(none, np.sqrt(1 / one + 1 / two), error)


def tables(
    bad: Floats, poured: Floats, stratum: Ints, heat: Ints, factor: Factor, between: Floats
) -> Tables:
    """Return the sums of every test of a factor. ``between``: variance between heats, by fault.

    The variance by chance is the hypergeometric one of each pattern. A heat's own factor on the
    rate adds the square of what the heat expects at the level less its pattern's share: nothing
    where the levels are mixed alike in every heat, most where a heat has one level only.
    """
    known = (factor.codes >= 0) & (poured > 0)
    code, matrix = factor.codes[known], columns(factor)[0]
    plain = np.zeros(int(known.sum()), dtype=np.int64)
    layer = compact(stratum[known]) if factor.stratified else plain
    bad, poured = bad[known], poured[known]
    groups, levels, faults = int(layer.max(initial=0)) + 1, len(factor.levels), bad.shape[1]
    key = layer * levels + code
    castings = counted(key, groups * levels, poured).reshape(groups, levels)
    counts = grouped(key, groups * levels, bad).reshape(groups, levels, faults)
    here, total = castings @ matrix, castings.sum(axis=1)
    there = total[:, None] - here
    found = np.einsum("slf,lm->smf", counts, matrix)
    whole = counts.sum(axis=1)
    share = here / np.maximum(total, 1e-12)[:, None]
    good = np.maximum(total[:, None] - whole, 0.0)
    chance = whole * good / np.maximum(total - 1, 1.0)[:, None]
    rate = whole / np.maximum(total, 1e-12)[:, None]
    lean = (1 - 2 * rate) * (total / np.maximum(total - 2, 1.0))[:, None]
    added = between * _leverage(poured, layer, compact(heat[known]), code, rate, matrix, share)
    ratio, error = _ratios(found, whole[:, None, :] - found, here, there)
    sums = found.sum(axis=0)
    return Tables(
        sums,
        np.einsum("sm,sf->mf", share, whole),
        np.einsum("sm,sf->mf", share * (1 - share), chance),
        np.einsum("sm,sf->mf", share * (1 - share) * (1 - 2 * share), chance * lean),
        added,
        ratio,
        error,
        here.sum(axis=0),
        there.sum(axis=0),
        whole.sum(axis=0) - sums,
    )


def _leverage(
    poured: Floats,
    layer: Ints,
    heat: Ints,
    code: Ints,
    rate: Floats,
    matrix: Floats,
    share: Floats,
) -> Floats:
    """Return the sum over heats of the square of what each expects beyond its patterns' share."""
    levels, groups, heats = matrix.shape[0], rate.shape[0], int(heat.max(initial=0)) + 1
    mean = poured[:, None] * rate[layer]
    by_level = grouped(heat * levels + code, heats * levels, mean)
    here = np.einsum("hlf,lm->hmf", by_level.reshape(heats, levels, -1), matrix)
    by_layer = grouped(heat * groups + layer, heats * groups, mean)
    flat = by_layer.reshape(heats, groups, -1).transpose(0, 2, 1) @ share
    found: Floats = ((here - flat.transpose(0, 2, 1)) ** 2).sum(axis=0)
    return found
