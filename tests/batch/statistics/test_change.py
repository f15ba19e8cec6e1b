"""When a rate changed: published data, and steps whose day is known."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from diagnose.batch.statistics.change import MARGIN, changes, scan, steps
from tests.batch.statistics import published


def days(count: int) -> list[date]:
    return [date(2026, 1, 1) + timedelta(days=i) for i in range(count)]


def test_coal_disasters_fell_about_1891() -> None:
    # The standing example of change points; that the rate fell from about 3 to about 0.9 a year
    # around 1890 is on every page that was read (learnbayes.wordpress.com, wgfoote.github.io).
    years = np.ones(112)
    (found,) = steps(published.DISASTERS[None], years, "u")
    assert 1851 + found.at in (1890, 1891, 1892)
    assert found.before == pytest.approx(3.1, abs=0.15)
    assert found.after == pytest.approx(0.92, abs=0.05)
    assert found.p == pytest.approx(1 / 2000)
    assert 1884 <= 1851 + found.first <= 1890 < 1851 + found.last <= 1898


def test_likelihood_is_that_of_two_rates() -> None:
    from scipy import stats

    bad, size = np.array([1.0, 2, 9, 3, 8, 4, 9, 1, 0, 3]), np.full(10, 20.0)
    gain = scan(bad, size, "p", margin=1)

    def log(part: slice) -> float:
        rate = bad[part].sum() / size[part].sum()
        return float(stats.binom.logpmf(bad[part], size[part], rate).sum())

    for at in range(1, 10):
        both = log(slice(0, at)) + log(slice(at, None))
        assert gain[at - 1] == pytest.approx(2 * (both - log(slice(None))))
    assert np.isneginf(scan(bad, size)[[0, 1, 2, -1]]).all()
    assert scan(bad, size)[MARGIN - 1] == pytest.approx(gain[MARGIN - 1])


def test_p_is_level_whatever_the_spread_of_the_days() -> None:
    draw = np.random.default_rng(6)
    size = draw.integers(50, 300, 40).astype(float)
    for between in (0.0, 0.5):
        rate = np.full((60, 40), 0.03)
        if between:
            rate = 0.03 * draw.gamma(1 / between, between, (60, 40))
        bad = draw.binomial(size.astype(int), rate).astype(float)
        p = np.array([x.p for x in steps(bad, size, draws=199)])
        assert (p <= 0.1).mean() <= 0.2
        assert p.mean() == pytest.approx(0.5, abs=0.12)


def test_planted_step_is_found_and_dated() -> None:
    draw = np.random.default_rng(8)
    size = draw.integers(150, 300, 60).astype(float)
    rate = np.where(np.arange(60) < 33, 0.02, 0.05)
    bad = np.array(
        [draw.binomial(size.astype(int), rate)]
        + [draw.binomial(size.astype(int), 0.01) for _ in range(5)]
    ).T.astype(float)
    found = changes([f"f{i}" for i in range(6)], days(60), bad, size)
    assert [x.defect for x in found] == ["f0"]
    first, last = found[0].between
    assert first <= days(60)[33] <= last
    assert found[0].before == pytest.approx(0.02, abs=0.005)
    assert found[0].after == pytest.approx(0.05, abs=0.008)


def test_dates_hold_the_day_as_often_as_said() -> None:
    draw = np.random.default_rng(9)
    size = np.full(60, 200.0)
    held = []
    for _ in range(100):
        at = int(draw.integers(15, 45))
        rate = np.where(np.arange(60) < at, 0.02, 0.045)
        rate = rate * draw.gamma(5, 0.2, 60)
        (one,) = steps(draw.binomial(200, rate).astype(float)[None], size, draws=9)
        held.append(one.first <= at <= one.last)
    assert np.mean(held) >= 0.88


def test_two_steps_are_two() -> None:
    draw = np.random.default_rng(10)
    size = np.full(80, 300.0)
    rate = np.select([np.arange(80) < 30, np.arange(80) < 55], [0.02, 0.06], 0.02)
    bad = draw.binomial(300, rate).astype(float)[:, None]
    found = changes(["f"], days(80), bad, size)
    assert len(found) == 2
    assert found[0].between[0] <= days(80)[30] <= found[0].between[1]
    assert found[1].between[0] <= days(80)[55] <= found[1].between[1]


def test_too_short_or_empty_is_no_change() -> None:
    assert changes(["f"], days(8), np.ones((8, 1)), np.full(8, 10.0)) == ()
    assert changes(["f"], days(40), np.zeros((40, 1)), np.full(40, 10.0)) == ()
    size = np.where(np.arange(40) % 7 == 6, 0.0, 100.0)
    assert changes(["f"], days(40), np.where(size > 0, 2.0, 0.0)[:, None], size) == ()
