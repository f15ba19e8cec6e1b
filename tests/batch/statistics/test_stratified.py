"""Mantel and Haenszel's sums: published strata, statsmodels, and heats."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.contingency_tables import StratifiedTable

from diagnose.batch.statistics.cells import Factor
from diagnose.batch.statistics.stratified import Tables, columns, tables
from tests.batch.statistics import published


def sums(strata: Sequence[Sequence[float]], between: float = 0.0) -> Tables:
    """Return the sums of strata of bad and good here, bad and good elsewhere."""
    rows = [(s, here, x) for s, t in enumerate(strata) for here, x in ((1, t[:2]), (0, t[2:]))]
    bad = np.array([[x[0]] for *_, x in rows], dtype=float)
    poured = np.array([sum(x) for *_, x in rows], dtype=float)
    stratum = np.array([s for s, *_ in rows])
    factor = Factor("here", ("elsewhere", "here"), np.array([here for _, here, _ in rows]))
    return tables(bad, poured, stratum, np.arange(len(rows)), factor, np.array([between]))


@pytest.mark.parametrize(
    ("strata", "statistic", "p"),
    [
        (published.RABBITS, 3.9286, 0.04747),
        (published.SECOND, 11.8852, 0.0005658),
        (published.THIRD, 1.3368, 0.2476),
    ],
)
def test_statistic_is_as_published(
    strata: Sequence[Sequence[float]], statistic: float, p: float
) -> None:
    # R's mantelhaen.test, with its correction for continuity where R makes one (it did in the
    # first two); ours is the mid-p of the same mean and variance.
    found = sums(strata)
    off = abs(float(found.found[0, 0] - found.mean[0, 0]))
    ours = {less: (off - less) ** 2 / float(found.variance[0, 0]) for less in (0.0, 0.5)}
    assert min(abs(x - statistic) for x in ours.values()) < 6e-5
    less = min(ours, key=lambda x: abs(ours[x] - statistic))
    assert stats.chi2.sf(ours[less], 1) == pytest.approx(p, rel=2e-3)
    # The mid-p lies between the test with and the test without the correction, or close by.
    assert stats.chi2.sf(ours[0.0], 1) * 0.75 < found.p[0, 0] < stats.chi2.sf(ours[0.5], 1) * 1.1


@pytest.mark.parametrize("strata", [published.RABBITS, published.SECOND, published.THIRD])
def test_sums_and_ratio_agree_with_statsmodels(strata: Sequence[Sequence[float]]) -> None:
    theirs = StratifiedTable([np.array(x, dtype=float).reshape(2, 2) for x in strata])
    found = sums(strata)
    off = found.found[0, 0] - found.mean[0, 0]
    plain = theirs.test_null_odds(correction=False)
    assert off**2 / found.variance[0, 0] == pytest.approx(plain.statistic)
    assert found.ratio[0, 0] == pytest.approx(theirs.riskratio_pooled)


def test_pooling_over_patterns_would_blame_the_wrong_side() -> None:
    # Published (R, as above): crude odds ratio 0.542, stratified 1.102.
    crude = sums([np.sum(published.THIRD, axis=0).tolist()])
    assert crude.ratio[0, 0] > 1.2 or crude.ratio[0, 0] < 0.8
    within = sums(published.THIRD)
    assert within.ratio[0, 0] == pytest.approx(1.0, abs=0.1)
    assert crude.p[0, 0] < 1e-10 < 0.1 < within.p[0, 0]


def test_one_stratum_is_the_plain_ratio_as_published() -> None:
    # scipy's documentation of relative_risk: 10 of 75 beside 12 of 225: 2.5 (1.126 to 5.550).
    ratio, low, high = sums([[10, 65, 12, 213]]).interval(0, 0)
    assert (ratio, low, high) == pytest.approx((2.5, 1.1261564, 5.5498508), rel=1e-6)


def test_fishers_tea_and_scipys_table() -> None:
    # One stratum: mean and variance are the hypergeometric law's. Published exact p, two-sided:
    # 8 2; 1 5 gives 0.034965 (scipy's documentation); ours is a mid-p, so below it.
    found = sums([[8, 2, 1, 5]])
    law = stats.hypergeom(16, 9, 10)
    assert found.mean[0, 0] == pytest.approx(law.mean())
    assert found.variance[0, 0] == pytest.approx(law.var())
    exact_mid = 2 * (law.sf(8) + law.pmf(8) / 2)
    assert found.p[0, 0] == pytest.approx(exact_mid, abs=0.012)
    assert found.p[0, 0] < 0.034965


def test_mid_p_is_near_the_exact_law_of_several_strata() -> None:
    # The exact conditional law of the sum over strata, by convolution; statsmodels has none.
    strata = [[4.0, 36, 6, 94], [3.0, 17, 5, 115], [0.0, 30, 2, 60], [5.0, 45, 3, 97]]
    law, lowest = np.array([1.0]), 0
    for a, b, c, d in strata:
        one = stats.hypergeom(int(a + b + c + d), int(a + c), int(a + b))
        law = np.convolve(law, one.pmf(np.arange(int(a + c) + 1)))
    seen = int(sum(x[0] for x in strata)) - lowest
    upper = law[seen + 1 :].sum() + law[seen] / 2
    exact = 2 * min(upper, 1 - upper)
    assert sums(strata).p[0, 0] == pytest.approx(exact, rel=0.06)


def test_none_bad_elsewhere_has_a_finite_ratio() -> None:
    ratio, low, high = sums([[6, 44, 0, 100]]).interval(0, 0)
    assert 1 < low < ratio < high < np.inf
    # (6.5 / 2.5) over (0.5 / 4.5): half a casting more found and expected, on either side.
    assert ratio == pytest.approx((6.5 / 2.5) / (0.5 / 4.5))
    ratio, low, high = sums([[0, 50, 6, 94]]).interval(0, 0)
    assert 0 < low < ratio < 1


def test_interval_of_the_ratio_covers() -> None:
    draw = np.random.default_rng(12)
    held = []
    for _ in range(400):
        here = draw.binomial([60, 200, 90], [0.06, 0.03, 0.12])
        there = draw.binomial([300, 150, 400], [0.03, 0.015, 0.06])
        strata = [
            [a, n - a, b, m - b]
            for a, b, n, m in zip(here, there, (60, 200, 90), (300, 150, 400), strict=True)
        ]
        _, low, high = sums(strata).interval(0, 0)
        held.append(low <= 2 <= high)
    assert 0.92 <= np.mean(held) <= 0.985


def test_columns_of_a_factor() -> None:
    codes = np.arange(4)
    matrix, names = columns(Factor("order", ("1", "2", "3", "4"), codes, ordered=True))
    assert matrix.T.tolist() == [[0, 1, 1, 1], [0, 0, 1, 1], [0, 0, 0, 1]]
    assert names == (("2 and later", "1"), ("3 and later", "up to 2"), ("4 and later", "up to 3"))
    matrix, names = columns(Factor("shift", ("day", "night"), codes % 2))
    assert matrix.tolist() == [[0], [1]]
    assert names == (("night", "day"),)
    assert columns(Factor("plate", ("a", "b", "c"), codes % 3))[0].tolist() == np.eye(3).tolist()


def test_heats_add_nothing_where_levels_are_mixed_in_every_heat() -> None:
    draw = np.random.default_rng(13)
    heat = np.repeat(np.arange(40), 2)
    stratum, poured = np.zeros(80, dtype=int), np.full(80, 30.0)
    bad = draw.binomial(30, 0.1, (80, 1)).astype(float)
    mixed = Factor("plate", ("a", "b"), np.tile([0, 1], 40))
    whole = Factor("furnace", ("a", "b"), (heat % 2).astype(np.int64))
    between = np.array([0.5])
    assert tables(bad, poured, stratum, heat, mixed, between).heats[0, 0] == pytest.approx(0)
    # Whole heats: 20 heats a side, each expects 60 castings' worth, half of it beyond its share.
    rate = bad.sum() / poured.sum()
    added = tables(bad, poured, stratum, heat, whole, between).heats[0, 0]
    assert added == pytest.approx(0.5 * 40 * (60 * rate / 2) ** 2)
