"""Hot return sand."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.hot_sand import HOT, UNMANAGEABLE, cooling_by, cooling_water


def test_the_limits_are_120_and_160_degrees_fahrenheit() -> None:
    units = pint.UnitRegistry()
    for limit, fahrenheit in ((HOT, 120), (UNMANAGEABLE, 160)):
        exact = units.Quantity(fahrenheit, units.degF).to(units.degC).magnitude
        assert limit == pytest.approx(exact, abs=0.15)


@pytest.mark.parametrize(
    ("temperature", "value", "word"), [(40, 9, None), (60, -11, "hot:"), (90, -41, "too hot")]
)
def test_the_verdict(temperature: float, value: float, word: str | None) -> None:
    worked = calculations()["hot-sand-margin"].run(temperature=temperature)
    assert worked.value == pytest.approx(value)
    assert worked.warnings[0].startswith(word) if word else not worked.warnings


@given(st.floats(1, 5000), st.floats(60, 300), st.floats(0, 90))
def test_water_and_cooling_are_one_balance(sand: float, hot: float, water: float) -> None:
    kilograms = cooling_water(sand, hot, 55.0, water)
    assert cooling_by(kilograms / sand * 100, water) == pytest.approx(hot - 55)


def test_the_published_balance_in_its_own_units() -> None:
    # (142 + 974) Btu/lb against 2000 lb x 0.2 x 90 degF: 32.26 lb; the article prints 32.2.
    pounds = 2000 * 0.2 * 90 / (142 + 974)
    ours = cooling_water(2000.0, 150.0, 100.0, 21.111)
    assert ours == pytest.approx(pounds, rel=0.003)


def test_water_does_not_heat_sand() -> None:
    with pytest.raises(OutOfRange, match="hotter than the sand at 60 degC"):
        cooling_water(100.0, 60.0, 90.0)


def test_steam_is_warned_of() -> None:
    warnings = calculations()["cooling-water"].run(sand=100, hot=120, cooled=45).warnings
    assert "steam throws it" in warnings[0]
