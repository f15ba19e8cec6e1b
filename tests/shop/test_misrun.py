"""Misrun: fluidity in two unit systems, and thin walls that want heat."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.misrun import MINIMUM, run_time, spiral_length, thinnest

UNITS = pint.UnitRegistry()
SUPERHEAT = st.floats(0, 300)


@pytest.mark.parametrize("fahrenheit", [2400, 2500, 2600])
@pytest.mark.parametrize("carbon", [3.2, 3.4, 3.7])
def test_metric_rule_is_the_inch_rule_from_memory(carbon: float, fahrenheit: float) -> None:
    # 14.9 CF + 0.05 T(F) - 155 in inches, from memory; the metric form was read.
    inches = 14.9 * (carbon + 0.5) + 0.05 * fahrenheit - 155
    celsius = UNITS.Quantity(fahrenheit, "degF").to("degC").magnitude
    found = spiral_length(carbon, 2.0, 0.0, celsius)
    assert found == pytest.approx(UNITS.Quantity(inches, "inch").to("cm").magnitude, abs=1.0)


@given(st.floats(3.0, 4.0), st.floats(1, 3), st.floats(0, 1), st.floats(1300, 1450))
def test_carbon_silicon_phosphorus_and_heat_make_it_run(
    carbon: float, silicon: float, phosphorus: float, temperature: float
) -> None:
    base = spiral_length(carbon, silicon, phosphorus, temperature)
    assert spiral_length(carbon + 0.1, silicon, phosphorus, temperature) > base
    assert spiral_length(carbon, silicon + 0.1, phosphorus, temperature) > base
    assert spiral_length(carbon, silicon, phosphorus + 0.1, temperature) > base
    assert spiral_length(carbon, silicon, phosphorus, temperature + 10) > base


@given(SUPERHEAT, st.floats(10, 1000), st.floats(100, 2000), st.floats(1.01, 2))
def test_hot_iron_runs_thinner_and_a_long_way_wants_thicker(
    superheat: float, run: float, speed: float, scale: float
) -> None:
    base = thinnest(superheat, run, speed)
    assert thinnest(superheat + 10, run, speed) < base
    assert thinnest(superheat, run * scale, speed) > base
    assert thinnest(superheat, run, speed * scale) < base


@given(SUPERHEAT, st.floats(1, 1000), st.floats(100, 2000))
def test_there_and_back(superheat: float, run: float, speed: float) -> None:
    thin = thinnest(superheat, run, speed)
    assert run_time(thin, superheat) * speed == pytest.approx(run)


def test_comes_out_where_the_makers_stop() -> None:
    # Maker's guide (read): 4 to 6 mm in green sand; runs of 200 to 800 mm at 0.5 m/s.
    least, most = MINIMUM["grey", "green"]
    found = [thinnest(superheat, run, 500) for superheat in (60, 120) for run in (200, 800)]
    assert min(found) < most
    assert max(found) > least
    assert all(1.5 < each < 10 for each in found)


def test_every_maker_wants_ductile_iron_thicker() -> None:
    for sand in ("green", "shell", "resin"):
        assert MINIMUM["grey", sand] < MINIMUM["ductile", sand]
        assert MINIMUM["grey", sand][0] < MINIMUM["grey", sand][1]


@pytest.mark.parametrize(
    ("wall", "words"), [(3.0, "thinner than makers"), (5.0, "needs hot iron"), (8.0, None)]
)
def test_a_wall_is_put_in_its_place(wall: float, words: str | None) -> None:
    worked = calculations()["wall-to-spare"].run(wall=wall, sand="green")
    assert (words is None) == (not worked.warnings)
    assert words is None or any(words in each for each in worked.warnings)


def test_cold_iron_has_no_run() -> None:
    with pytest.raises(OutOfRange, match="gives no run at all"):
        calculations()["fluidity"].run(carbon=2.0, silicon=1.0, temperature=1200)
    with pytest.raises(OutOfRange, match="run"):
        thinnest(100, 0, 500)
