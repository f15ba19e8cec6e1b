"""How surprising a count is: exact laws, the mid-p, and families of tests."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from diagnose.batch.statistics.tails import at_least, false_discovery, skewed, two_sided
from tests.batch.statistics import published


def test_tail_is_exact_for_the_three_laws() -> None:
    count = np.arange(0, 15)
    assert at_least(count, 4.0, 4.0) == pytest.approx(stats.poisson.sf(count - 1, 4.0))
    assert at_least(count, 4.0, 4.0 * 0.8) == pytest.approx(stats.binom.sf(count - 1, 20, 0.2))
    assert at_least(count, 4.0, 4.0 * 2) == pytest.approx(stats.nbinom.sf(count - 1, 4.0, 0.5))


def test_published_binomial_tails() -> None:
    # scipy's documentation: 3 unsafe cars of 15 at a claim of one in ten. R's binom.test as stored
    # in statsmodels' tests: 51 of 235 at one in six.
    assert at_least(3, 1.5, 1.35) == pytest.approx(0.18406106910639114)
    assert at_least(51, 235 / 6, 235 / 6 * 5 / 6) == pytest.approx(0.0265442, abs=1e-7)
    assert 1 - at_least(52, 235 / 6, 235 / 6 * 5 / 6) == pytest.approx(0.982023, abs=1e-6)


def test_mid_p_is_half_of_the_count_less() -> None:
    whole, mid = two_sided(9, 4.0, 4.0, mid=False), two_sided(9, 4.0, 4.0)
    assert whole - mid == pytest.approx(stats.poisson.pmf(9, 4.0))
    assert two_sided(0, 4.0, 4.0) == pytest.approx(stats.poisson.pmf(0, 4.0))
    assert two_sided(4, 4.0, 4.0) <= 1.0


def test_mid_p_is_near_a_level_test() -> None:
    # For one mean a mid-p may go over by a lattice point; over many means it keeps its level.
    draw = np.random.default_rng(4)
    mean = draw.uniform(2, 20, 100_000)
    count = draw.poisson(mean)
    assert (two_sided(count, mean, mean) <= 0.05).mean() == pytest.approx(0.05, abs=0.01)
    spread = draw.negative_binomial(mean, 0.5)
    assert (two_sided(spread, mean, 2 * mean) <= 0.05).mean() == pytest.approx(0.05, abs=0.01)


def test_three_moments_are_near_the_exact_laws() -> None:
    for law in (stats.hypergeom(40, 18, 20), stats.hypergeom(60, 45, 12), stats.poisson(6)):
        mean, variance, skew = (float(x) for x in law.stats("mvs"))
        count = np.arange(int(mean - 3 * variance**0.5), int(mean + 3.5 * variance**0.5))
        upper = law.sf(count) + law.pmf(count) / 2
        exact = 2 * np.minimum(upper, 1 - upper)
        found = skewed(count, mean, variance, skew * variance**1.5)
        assert found == pytest.approx(exact, rel=0.35, abs=0.004)


def test_fractions_lie_between_the_whole_numbers() -> None:
    for variance in (3.0, 4.0, 9.0):
        tail = at_least(np.array([5.0, 5.5, 6.0]), 4.0, variance)
        assert tail[0] > tail[1] > tail[2]


def test_family_is_as_published() -> None:
    assert false_discovery(published.FAMILY) == pytest.approx(published.FAMILY_Q, abs=1e-7)


def test_weighted_family() -> None:
    p = published.FAMILY
    assert false_discovery(p, np.ones(len(p))) == pytest.approx(false_discovery(p))
    weights = np.r_[np.full(5, 2.0), np.full(10, 0.5)]
    assert false_discovery(p, weights) == pytest.approx(false_discovery(np.minimum(1, p / weights)))
    assert false_discovery([]).shape == (0,)
