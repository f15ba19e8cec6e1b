"""Strength by wall and grade: monotone, and the power law against the older wall table."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.strength import (
    CLASS_UNITS,
    IN_CASTING,
    PLACES,
    class_in_mpa,
    expected_strength,
    strength_elsewhere,
)

UNITS = pint.UnitRegistry()
WALL = st.floats(10.01, 150)


@given(st.sampled_from(sorted(IN_CASTING)), WALL, WALL)
def test_falls_with_the_wall(grade: str, one: float, other: float) -> None:
    thin, thick = sorted((one, other))
    assert expected_strength(grade, thin) >= expected_strength(grade, thick)


@given(WALL)
def test_rises_with_the_grade(wall: float) -> None:
    values = [expected_strength(grade, wall) for grade in sorted(IN_CASTING)]
    assert values == sorted(values)
    assert len(set(values)) == len(values)


@given(st.sampled_from(sorted(IN_CASTING)), st.floats(20.01, 80))
def test_a_sample_cast_on_is_stronger_than_the_casting(grade: str, wall: float) -> None:
    assert expected_strength(grade, wall, "cast-on") > expected_strength(grade, wall)


@pytest.mark.parametrize("grade", ["200", "250", "300"])
def test_power_law_follows_the_wall_table_it_was_not_fitted_to(grade: str) -> None:
    # EN 1561 by wall (read); each band at the geometric middle of its walls. Weak
    # irons lose a little more than the law says.
    bands = IN_CASTING[grade]
    start, strength = math.sqrt(bands[0][0] * bands[0][1]), bands[0][2]
    for over, up_to, listed in bands[1:]:
        found = strength_elsewhere(strength, start, math.sqrt(over * up_to))
        assert found == pytest.approx(listed, rel=0.09)


@given(st.floats(100, 400), st.floats(4, 150), st.floats(4, 150), st.floats(4, 150))
def test_goes_there_and_back_and_by_any_way(
    strength: float, one: float, two: float, three: float
) -> None:
    there = strength_elsewhere(strength, one, two)
    assert strength_elsewhere(there, two, one) == pytest.approx(strength)
    assert strength_elsewhere(there, two, three) == pytest.approx(
        strength_elsewhere(strength, one, three)
    )


@pytest.mark.parametrize(
    ("name", "unit"),
    [("ksi", "ksi"), ("tonf/in2", "UK_force_ton / inch**2"), ("kgf/mm2", "kgf / mm**2")],
)
def test_class_units_are_those_of_a_units_library(name: str, unit: str) -> None:
    assert CLASS_UNITS[name] == pytest.approx(UNITS.Quantity(1, unit).to("MPa").magnitude)


def test_test_bars_of_the_classes_are_round_inches() -> None:
    # ASTM A48 (read): bars of 22.4, 30.5 and 50.8 mm are 0.88, 1.2 and 2.0 in.
    for inches, printed in ((0.88, 22.4), (1.2, 30.5), (2.0, 50.8)):
        assert UNITS.Quantity(inches, "inch").to("mm").magnitude == pytest.approx(printed, abs=0.06)


def test_a_hole_in_the_table_is_said() -> None:
    with pytest.raises(OutOfRange, match="above 10 to 150 mm"):
        expected_strength("300", 8)
    with pytest.raises(OutOfRange, match="above 20 to 150 mm"):
        calculations()["expected-strength"].run(grade="250", wall=12, place="cast-on")
    with pytest.raises(OutOfRange, match="grade '180'"):
        expected_strength("180", 30)
    with pytest.raises(OutOfRange, match="unit 'psi'"):
        class_in_mpa(30, "psi")
    assert set(PLACES) == {"casting", "cast-on"}


def test_a_wall_on_the_border_belongs_below_it() -> None:
    assert expected_strength("250", 20) == 225
    assert expected_strength("250", 20.01) == 195
