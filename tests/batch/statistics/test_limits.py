"""Limits of the charts, held against published charts."""

from __future__ import annotations

import numpy as np
import pytest

from diagnose.batch.statistics.limits import (
    by_chance,
    fitting,
    shewhart,
    smoothed,
    spread,
    standardised,
)
from tests.batch.statistics import published
from tests.batch.statistics.published import Counts


def same(size: float, like: Counts) -> Counts:
    return np.full(len(like), size)


@pytest.mark.parametrize(
    ("count", "size", "kind", "centre", "low", "high"),
    [
        (published.CANS, 50, "p", 0.2313333, 0.05242755, 0.4102391),
        (published.CANS_LATER, 50, "p", 0.1108333, 0, 0.2440207),
        (published.BOARDS, 1, "u", 19.84615, 6.481447, 33.21086),
        (published.COMPUTERS, 5, "u", 1.93, 0.06613305, 3.793867),
        (published.WAFERS, 200, "p", 0.0357, 0, 15.01184 / 200),
        (published.WAFERS_TWENTY, 200, "p", 0.03475, 0, 14.72 / 200),
        (np.array([1.0, 0, 2, 1]), 10, "p", 0.10, 0, 0.3846),
        (np.array([2.0, 3, 1, 4]), 1, "u", 2.5, 0, 7.243),
    ],
)
def test_limits_are_those_published(
    count: Counts, size: float, kind: str, centre: float, low: float, high: float
) -> None:
    # Montgomery's cans, cans after setting, boards (c chart) and computers; two student reports;
    # a method note on GitHub (id 57683301424).
    limits = shewhart(count, same(size, count), kind)  # type: ignore[arg-type]
    assert limits.centre == pytest.approx(centre, rel=1e-6)
    assert limits.low[0] == pytest.approx(low, rel=2e-6, abs=1e-9)
    assert limits.high[0] == pytest.approx(high, rel=2e-4)


def test_published_charts_have_their_published_points_out() -> None:
    for count, size, kind, out in (
        (published.CANS, 50, "p", [15, 23]),
        (published.BOARDS, 1, "u", [6, 20]),
        (published.WAFERS, 200, "p", []),
    ):
        limits = shewhart(count, same(size, count), kind)  # type: ignore[arg-type]
        rate = count / size
        found = np.flatnonzero((rate > limits.high) | (rate < limits.low)) + 1
        assert found.tolist() == out


def test_without_the_two_samples_the_limits_are_as_published() -> None:
    kept = np.delete(published.CANS, [14, 22])
    limits = shewhart(kept, same(50, kept), "p")
    assert (limits.centre, limits.low[0], limits.high[0]) == pytest.approx(
        (0.215, 0.04070284, 0.3892972), rel=1e-6
    )
    boards = np.delete(published.BOARDS, [5, 19])
    per_board = shewhart(boards, same(100, boards), "u")
    assert (per_board.centre, per_board.low[0], per_board.high[0]) == pytest.approx(
        (0.1966667, 0.06362532, 0.329708), rel=1e-6
    )


def test_each_size_has_its_limits() -> None:
    # Unequal sizes, Montgomery pp. 183-184: counts read, limits by the formula (the page's own
    # limits were not read, so this does not count as published).
    size = np.array([10, 8, 13, 10, 9.5, 10, 12, 10.5, 12, 12.5])
    count = np.array([14, 12, 20, 11, 7, 10, 21, 16, 19, 23.0])
    limits = shewhart(count, size, "u")
    assert limits.centre == pytest.approx(153 / 107.5)
    assert limits.low[1] == pytest.approx(0.158, abs=5e-4)
    assert limits.high[1] == pytest.approx(2.689, abs=5e-4)
    assert (np.diff(limits.high[np.argsort(size)]) <= 0).all()


def test_page_with_the_wrong_operating_characteristic_is_not_followed() -> None:
    # Wrong as published: R's qcc vignette gives the chance of no signal on the cans chart at a
    # rate of 0.01 as 0.0894 and at 0.02 as 0.2642, because a count of 2 is taken as inside though
    # the lower limit is 2.62. Kept as a control.
    from scipy import stats

    limits = shewhart(published.CANS, same(50, published.CANS), "p")
    count = np.arange(51)
    inside = (count / 50 >= limits.low[0]) & (count / 50 <= limits.high[0])
    for rate, wrong, right in ((0.01, 0.0894, 0.0138), (0.02, 0.2642, 0.0784)):
        law = stats.binom.pmf(count, 50, rate)
        assert law[inside].sum() == pytest.approx(right, abs=1e-4)
        assert law[inside | (count == 2)].sum() == pytest.approx(wrong, abs=1e-4)


def test_laney_takes_the_moving_range_and_not_the_standard_deviation() -> None:
    # Counts published (Mohammed and others 2013), figures by the formula of D. B. Laney. A page
    # of pbivizedit.com takes the standard deviation of z instead and gets another answer: a
    # control, marked wrong as published.
    count, size = published.EMERGENCY, published.EMERGENCY_ALL
    z = standardised(count, size, "p")
    assert spread(count, size, "p") == pytest.approx(np.abs(np.diff(z)).mean() / 1.128)
    assert spread(count, size, "p") == pytest.approx(10.6404, abs=1e-4)
    assert z.std(ddof=1) == pytest.approx(10.7783, abs=1e-4)
    plain, wide = (shewhart(count, size, "p", widened=x) for x in (1.0, 10.6404))
    assert int((np.abs(plain.off) > 3).sum()) == 16
    assert int((np.abs(wide.off) > 3).sum()) == 0
    assert (wide.low[0], wide.high[0]) == pytest.approx((0.940130, 0.965670), abs=1e-6)


def test_chart_that_fits() -> None:
    assert fitting(published.EMERGENCY, published.EMERGENCY_ALL, "p") == pytest.approx(
        10.6404, 1e-4
    )
    draw = np.random.default_rng(1)
    size = draw.integers(40, 200, 60).astype(float)
    taken = [
        fitting(draw.binomial(size.astype(int), 0.01).astype(float), size, "p") > 1
        for _ in range(100)
    ]
    # Stated: five sheets of a hundred, also with one bad casting a point.
    assert sum(taken) <= 12


def test_ewma_of_the_textbooks_data() -> None:
    # Data read (help.imsl.com, after Montgomery); 9.945, 9.7495 and 10.27 are from memory of the
    # book, the rest by the formula, so this is not counted as published. A made-up size makes
    # sigma 1 for a u chart of rate 10.
    size = np.full(30, 10.0)
    values, limits = smoothed(
        published.SMOOTHED * size, size, "u", weight=0.1, width=2.7, centre=10.0
    )
    assert values[:3] == pytest.approx([9.945, 9.7495, 9.7035], abs=5e-5)
    assert limits.high[0] == pytest.approx(10.27, abs=1e-9)
    assert limits.high[-1] == pytest.approx(10 + 2.7 * np.sqrt(0.1 / 1.9), abs=1e-3)
    assert np.flatnonzero(np.abs(limits.off) > 2.7).tolist() == [28, 29]


def test_ewma_of_unequal_sizes_has_the_variance_of_what_it_is() -> None:
    draw = np.random.default_rng(3)
    size = draw.integers(50, 500, 25).astype(float)
    counts = draw.binomial(size.astype(int), 0.1, (4000, 25)).astype(float)
    last = np.array([smoothed(x, size, "p", centre=0.1)[0][-1] for x in counts])
    _, limits = smoothed(counts[0], size, "p", centre=0.1)
    expected = (limits.high[-1] - 0.1) / 3
    assert last.std() == pytest.approx(expected, rel=0.05)


@pytest.mark.parametrize("kind", ["p", "u"])
@pytest.mark.parametrize("widened", [1.0, 1.4])
def test_limits_by_chance_are_passed_no_more_often_than_said(kind: str, widened: float) -> None:
    from scipy import stats

    size = np.array([20.0, 60, 200, 900])
    count = np.round(size * 0.02)
    limits = by_chance(count, size, kind, widened=widened)  # type: ignore[arg-type]
    rate = count.sum() / size.sum()
    for n, low, high in zip(size, limits.low, limits.high, strict=True):
        mean = n * rate
        if widened > 1:
            ratio = widened**2 * ((1 - rate) if kind == "p" else 1)
            law = stats.nbinom(mean / (ratio - 1), 1 / ratio)
        else:
            law = stats.binom(n, rate) if kind == "p" else stats.poisson(mean)
        top = round(high * n)
        assert law.sf(top) <= 0.00135 + 1e-9 < law.sf(top - 1) + 1e-9
        assert law.cdf(round(low * n) - 1) <= 0.00135 + 1e-9
