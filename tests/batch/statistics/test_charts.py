"""The chart that fits, its marks, and the signals of a whole sheet."""

from __future__ import annotations

import numpy as np
import pytest

from diagnose.batch.statistics.charts import Series, chart, charts, ewma, judged
from diagnose.batch.statistics.rules import BEYOND, ONE_SIDE, RULES
from tests.batch.statistics import published
from tests.batch.statistics.published import Counts


def line(count: Counts, size: float | Counts, kind: str = "p", name: str = "cans") -> Series:
    whole = np.broadcast_to(np.asarray(size, dtype=float), count.shape).copy()
    at = tuple(str(i + 1) for i in range(len(count)))
    return Series(name, name, at, count, whole, kind)  # type: ignore[arg-type]


def test_published_chart_as_a_chart() -> None:
    drawn = chart(line(published.CANS, 50), limits="sigma", spread=1.0)
    assert (drawn.kind, drawn.spread) == ("p", 1.0)
    assert drawn.centre == pytest.approx(0.2313333, abs=1e-6)
    assert [x.at for x in drawn.points if x.rule == BEYOND] == ["15", "23"]
    assert drawn.points[0].high == pytest.approx(0.4102391, abs=1e-6)
    with_all = chart(line(published.CANS, 50), rules=RULES, limits="sigma", spread=1.0)
    assert sum(bool(x.rule) for x in with_all.points) > 2


def test_spread_makes_it_laneys() -> None:
    drawn = chart(line(published.EMERGENCY, published.EMERGENCY_ALL))
    assert drawn.kind == "laney p"
    assert drawn.spread == pytest.approx(10.6404, abs=1e-4)
    assert not any(x.rule for x in drawn.points)


def test_faults_on_castings_are_a_u_chart_and_no_denominators_a_chart_of_shares() -> None:
    boards = chart(line(published.BOARDS, 100, "u"), limits="sigma", spread=1.0)
    assert boards.kind == "u"
    assert [x.at for x in boards.points if x.rule == BEYOND] == ["6", "20"]
    draw = np.random.default_rng(14)
    shares = chart(line(draw.binomial(40, 0.3, 30).astype(float), 40, "shares"))
    assert shares.kind == "shares"
    assert shares.centre == pytest.approx(0.3, abs=0.05)


def test_days_without_pouring_are_left_out() -> None:
    size = np.array([100.0] * 6 + [0] + [100.0] * 6)
    drawn = chart(line(np.where(size > 0, 3.0, 0.0), size))
    assert len(drawn.points) == 12
    assert "7" not in [x.at for x in drawn.points]


def test_few_bad_castings_get_limits_by_chance() -> None:
    count = np.array([0.0, 1, 0, 0, 2, 0, 1, 0, 0, 1] * 3)
    fitting, plain = (chart(line(count, 100), limits=x) for x in ("fitting", "sigma"))  # type: ignore[arg-type]
    assert fitting.points[0].high > plain.points[0].high


def test_slow_drift_shows_on_the_ewma_first() -> None:
    draw = np.random.default_rng(15)
    rate = np.linspace(0.03, 0.07, 60)
    drift = line(draw.binomial(300, rate).astype(float), 300)
    beyond = [x for x in chart(drift, spread=1.0).points if x.rule == BEYOND]
    smooth = [x for x in ewma(drift, spread=1.0).points if x.rule]
    assert len(smooth) > len(beyond)


def test_sheet_judges_its_points_together() -> None:
    draw = np.random.default_rng(16)
    noise = [line(draw.binomial(200, 0.04, 60).astype(float), 200, name=f"f{i}") for i in range(12)]
    alone = [x for one in noise for x in chart(one, limits="sigma").points if x.rule]
    together = [x for one in charts(noise) for x in one.points if x.rule]
    assert len(alone) >= 1
    assert not together
    bad = noise[3].count.copy()
    bad[40] = 30
    noise[3] = line(bad, 200, name="f3")
    found = [(one.defect, one.kind, x.at) for one in charts(noise) for x in one.points if x.rule]
    assert ("f3", "p", "41") in found or ("f3", "laney p", "41") in found
    assert {x[0] for x in found} == {"f3"}


def test_long_run_is_a_signal_of_the_sheet() -> None:
    draw = np.random.default_rng(17)
    first, second = draw.binomial(400, 0.05, 30), draw.binomial(400, 0.085, 30)
    drawn = charts([line(np.r_[first, second].astype(float), 400)])
    rules = {x.rule for one in drawn for x in one.points if x.rule}
    assert rules & {ONE_SIDE, BEYOND, "drift"}


def test_judged_leaves_charts_otherwise_as_they_are() -> None:
    drawn = chart(line(published.CANS, 50))
    (again,) = judged([drawn])
    assert [x.value for x in again.points] == [x.value for x in drawn.points]
    assert judged([]) == ()


def test_short_and_empty_series_have_no_chart() -> None:
    assert charts([line(np.ones(5), 50), line(np.zeros(30), 50)]) == ()
