"""Rates and shares with their intervals."""

from __future__ import annotations

import numpy as np
import pytest

from diagnose.batch.statistics.proportions import interval, scrap_rate, tallies


@pytest.mark.parametrize(
    ("bad", "poured", "method", "low", "high"),
    [
        # R's DescTools as stored in statsmodels' tests.
        (100, 200, "wilson", 0.4313609, 0.5686391),
        (100, 200, "beta", 0.4286584, 0.5713416),
        # R's binom.test, the same tests.
        (51, 235, "beta", 0.1660633, 0.2752684),
        # An engineering note on GitHub: none wrong of 40, Wilson, 8.76 %.
        (0, 40, "wilson", 0.0, 0.087622),
        # Newcombe, Statistics in Medicine 17, 1998 (the figures from memory, so not counted).
        (81, 263, "wilson", 0.2553, 0.3662),
        (15, 148, "wilson", 0.0624, 0.1605),
        (1, 29, "wilson", 0.0061, 0.1718),
    ],
)
def test_intervals_are_as_published(
    bad: float, poured: float, method: str, low: float, high: float
) -> None:
    found = interval(bad, poured, method=method)
    assert (float(found[0]), float(found[1])) == pytest.approx((low, high), abs=6e-5)


def test_one_sided_upper_limit_of_none() -> None:
    # The same engineering note: none of 40, exact, one-sided 95 %: 7.2158 %.
    assert interval(0, 40, level=0.90, method="beta")[1] == pytest.approx(0.072158, abs=1e-6)


def test_nothing_poured_says_nothing() -> None:
    low, high = interval(np.array([0.0, 3]), np.array([0.0, 3]))
    assert (low[0], high[0]) == (0.0, 1.0)
    assert high[1] == 1.0
    assert scrap_rate(np.zeros(2), np.zeros(2)).rate == 0.0


def test_rate_by_weight_rests_on_fewer_castings() -> None:
    bad, poured = np.array([30.0, 2.0]), np.array([1000.0, 20.0])
    by_count = scrap_rate(bad, poured)
    by_weight = scrap_rate(bad, poured, np.array([1.0, 100.0]))
    assert by_count.rate == pytest.approx(32 / 1020)
    assert by_weight.rate == pytest.approx(230 / 3000)
    assert by_count.castings == pytest.approx(1020)
    assert by_weight.castings == pytest.approx(3000**2 / (1000 + 20 * 100**2))
    assert by_weight.high - by_weight.low > by_count.high - by_count.low
    alike = scrap_rate(bad, poured, np.full(2, 7.0))
    assert (alike.low, alike.high) == pytest.approx((by_count.low, by_count.high))


def test_interval_by_weight_covers() -> None:
    draw = np.random.default_rng(5)
    poured, each = np.array([400.0, 150, 40]), np.array([1.0, 8, 60])
    rate = np.array([0.05, 0.08, 0.1])
    true = float((poured * rate * each).sum() / (poured * each).sum())
    found = []
    for _ in range(400):
        bad = draw.binomial(poured.astype(int), rate).astype(float)
        one = scrap_rate(bad, poured, each)
        found.append(one.low <= true <= one.high)
    assert np.mean(found) > 0.90


def test_spread_between_heats_widens() -> None:
    bad, poured = np.array([30.0]), np.array([1000.0])
    plain, wide = scrap_rate(bad, poured), scrap_rate(bad, poured, spread=4.0)
    assert wide.high - wide.low == pytest.approx(2 * (plain.high - plain.low), rel=0.15)


def test_tallies_add_up() -> None:
    bad = np.array([[3.0, 0.4], [0.0, 0.6], [5.0, 1.0]])
    found = tallies(bad, kilograms=np.array([2.0, 10, 1]), money=np.array([1.0, 1, 4]))
    assert sum(x.count for x in found) == pytest.approx(10)
    assert sum(x.share for x in found) == pytest.approx(1)
    assert [x.weight for x in found] == pytest.approx([11, 7.8])
    assert [x.cost for x in found] == pytest.approx([23, 5.0])
    assert all(x.low <= x.share <= x.high for x in found)
    assert tallies(bad)[0].weight is None
    assert tallies(np.zeros((2, 2)))[0].share == 0.0


def test_published_pareto() -> None:
    # Wafers by fault, NIST/SEMATECH e-Handbook 7.4.5: 309 in all; shares by division.
    table = np.array([[15, 21, 45, 13], [26, 31, 34, 5], [33, 17, 49, 20]], dtype=float)
    shares = [x.share for x in tallies(table)]
    assert shares == pytest.approx([74 / 309, 69 / 309, 128 / 309, 38 / 309])
