"""Feeders: which rule governs, and the slips that must not come back."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.feeder import (
    ball_by_modulus,
    diameter_share,
    feeder_by_modulus,
    feeder_by_volume,
)
from diagnose.shop.shapes import modulus, volume

MODULUS = st.floats(1, 100)
SLENDER = st.floats(0.3, 3)


@given(st.floats(10, 500), SLENDER)
def test_share_is_the_modulus_of_the_cylinder(diameter: float, slenderness: float) -> None:
    sizes = {"diameter": diameter, "height": diameter * slenderness}
    assert diameter_share(slenderness, 2) * diameter == pytest.approx(modulus("cylinder", sizes))


@given(MODULUS, st.floats(1, 2), SLENDER, st.sampled_from([1, 2]))
def test_feeder_has_the_modulus_that_was_asked_for(
    casting: float, factor: float, slenderness: float, ends: int
) -> None:
    diameter = feeder_by_modulus(casting, factor, slenderness, ends)
    assert diameter * diameter_share(slenderness, ends) == pytest.approx(factor * casting)
    assert feeder_by_modulus(casting, factor, slenderness, 1) < feeder_by_modulus(
        casting, factor, slenderness, 2
    )


@given(MODULUS, st.floats(1, 2))
def test_a_ball_and_a_squat_cylinder_come_out_alike(casting: float, factor: float) -> None:
    assert ball_by_modulus(casting, factor) == pytest.approx(feeder_by_modulus(casting, factor))


@given(st.floats(1, 1e5), st.floats(0.5, 8), st.floats(10, 90), SLENDER)
def test_feeder_holds_what_it_must_give(
    size: float, shrinkage: float, gives: float, slenderness: float
) -> None:
    diameter = feeder_by_volume(size, shrinkage, gives, slenderness)
    held = volume("cylinder", {"diameter": diameter, "height": diameter * slenderness})
    assert held * gives / 100 == pytest.approx(size * 1000 * shrinkage / 100)


def test_modulus_governs_over_volume() -> None:
    # Riser design questions (read): 10 cm cube, 5 and 6 %; the modulus asks for 10 cm.
    cube = modulus("cube", {"side": 100})
    for shrinkage in (5, 6):
        assert feeder_by_modulus(cube, 1.0) > feeder_by_volume(1000, shrinkage)


def test_the_slab_that_was_answered_twice_too_large() -> None:
    # A question page has 23.84 cm for a side feeder; it is 10.71, or 12.86 with the factor.
    slab = modulus("plate", {"length": 250, "width": 250, "thickness": 50})
    assert feeder_by_modulus(slab, 1.0) == pytest.approx(107.1, abs=0.1)
    assert feeder_by_modulus(slab) == pytest.approx(128.6, abs=0.1)


def test_the_ball_that_was_answered_eight_times_too_small() -> None:
    # 3.5 min casting, 4.2 min feeder: the factor is the root of their ratio.
    plate = modulus("plate", {"length": 200, "width": 100, "thickness": 20})
    assert ball_by_modulus(plate, math.sqrt(4.2 / 3.5)) == pytest.approx(50.56, abs=0.01)


def test_a_feeder_that_freezes_first_is_worse_than_none() -> None:
    one = calculations()["feeder-margin"]
    assert any("worse than none" in words for words in one.run(modulus=10, feeder=9).warnings)
    assert any("usual 1.2" in words for words in one.run(modulus=10, feeder=11).warnings)
    assert not one.run(modulus=10, feeder=12).warnings


def test_grey_iron_is_told_to_look_at_graphite_and_mould_first() -> None:
    worked = calculations()["feeder-by-modulus"].run(modulus=10, seat="top")
    assert worked.value == pytest.approx(60)
    assert any("graphite" in words for words in worked.warnings)
    reach = calculations()["feeding-distance"].run(section=20)
    assert reach.value == pytest.approx(90)
    assert any("from memory" in words for words in reach.warnings)


def test_nonsense_is_refused() -> None:
    with pytest.raises(OutOfRange, match="modulus"):
        feeder_by_modulus(-1)
    with pytest.raises(OutOfRange, match="slenderness"):
        diameter_share(0)
