"""Bond equations of ICRI Report 610: shape, join and inverse."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.bond import (
    JOIN,
    available_bond,
    clay_to_water,
    compacted_strength_clay,
    equilibrium_compactability,
    equilibrium_moisture,
    moisture_strength_clay,
    mulling_index,
    working_bond,
)
from diagnose.shop.calculation import OutOfRange

strengths = st.floats(10, 40)
moistures = st.floats(1.5, 5)
heights = st.floats(30, 60)


def test_the_two_lines_meet_within_a_third_of_a_per_cent() -> None:
    low, high = clay_to_water(JOIN), clay_to_water(math.nextafter(JOIN, 100))
    assert low == pytest.approx(2.0201, abs=5e-5)
    assert high == pytest.approx(2.0136, abs=5e-5)
    assert low == pytest.approx(high, rel=0.0035)


@given(st.floats(7, 11), heights)
def test_compactability_comes_back(clay: float, height: float) -> None:
    moisture = equilibrium_moisture(clay, height)
    assert equilibrium_compactability(clay, moisture) == pytest.approx(height, abs=0.3)
    if abs(height - JOIN) > 0.3:
        assert equilibrium_compactability(clay, moisture) == pytest.approx(height, abs=1e-6)


@given(st.floats(7, 11), heights, st.floats(0.01, 5))
def test_more_compactability_wants_more_water(clay: float, height: float, more: float) -> None:
    assert equilibrium_moisture(clay, height + more) > equilibrium_moisture(clay, height)


@given(strengths, moistures, heights, st.floats(0.1, 5))
def test_a_stronger_sand_has_more_clay_at_work(
    strength: float, moisture: float, height: float, more: float
) -> None:
    for clay, other in (
        (available_bond, moisture),
        (working_bond, height),
        (compacted_strength_clay, height),
        (moisture_strength_clay, moisture),
    ):
        assert clay(strength + more, other) > clay(strength, other)


def test_a_point_of_clay_wants_about_half_a_point_of_water() -> None:
    for height in (35, 40, 45, 50):
        assert 0.45 < equilibrium_moisture(1.0, height) < 0.52


def test_the_misprinted_factor_is_left_out() -> None:
    assert compacted_strength_clay(26.0, 40.0) < 20


def test_off_the_lines() -> None:
    with pytest.raises(OutOfRange, match="two parts of live clay"):
        equilibrium_compactability(8.0, 1.0)
    with pytest.raises(OutOfRange, match="beyond the equation"):
        moisture_strength_clay(200.0, 8.0)
    with pytest.raises(OutOfRange, match="moisture"):
        mulling_index(100.0, 40.0, 0.0)
