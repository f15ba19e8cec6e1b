"""The ladle: volumes by a second way, whole moulds, and who carries it."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.ladle import ONE_MAN, TWO_MEN, carried_by, ladle_holds, moulds_filled

UNITS = pint.UnitRegistry()


def test_fifty_pounds_is_what_one_man_carries() -> None:
    # Foundry practice, a treatise (read): hand ladles to 50 lb, bull ladles to 350 lb.
    assert pytest.approx(UNITS.Quantity(50, "lb").to("kg").magnitude, abs=0.5) == ONE_MAN
    assert pytest.approx(UNITS.Quantity(350, "lb").to("kg").magnitude, abs=2) == TWO_MEN


def test_an_old_hand_ladle_holds_about_that() -> None:
    # Shop Practice, foundry-ladle table (read): hand ladle 6 to 7 in inside the shell, lining 1/2
    # to 3/4 in; a depth like its width is our reading of a garbled table.
    inside = 7 * 25.4 - 2 * 0.5 * 25.4
    assert 15 < ladle_holds(inside, inside, inside, 15, 6900) < ONE_MAN


@given(st.floats(60, 500), st.floats(60, 500), st.floats(60, 500), st.floats(0, 50))
def test_taper_lies_between_the_two_straight_ladles(
    top: float, bottom: float, depth: float, freeboard: float
) -> None:
    low, high = sorted((top, bottom))
    straight = [ladle_holds(each, each, depth, freeboard, 6900) for each in (low, high)]
    found = ladle_holds(top, bottom, depth, freeboard, 6900)
    assert straight[0] * (1 - 1e-9) <= found <= straight[1] * (1 + 1e-9)
    slices = 400
    filled = depth - freeboard
    summed = math.fsum(
        math.pi / 4 * (bottom + (top - bottom) * (n + 0.5) * filled / slices / depth) ** 2
        for n in range(slices)
    )
    assert found == pytest.approx(summed * filled / slices * 6900e-9, rel=1e-4)


@given(st.floats(2, 500), st.floats(0, 1), st.floats(0.1, 50))
def test_moulds_are_whole_and_one_more_would_be_too_many(
    metal: float, heel: float, mould: float
) -> None:
    number = moulds_filled(metal, heel, mould)
    assert number * mould <= metal - heel + 1e-6
    assert (number + 1) * mould > metal - heel - 1e-6


def test_who_carries_it_and_what_is_left() -> None:
    assert carried_by(23.0) != carried_by(23.5) != carried_by(200)
    none = calculations()["moulds-filled"].run(metal=10, mould=12)
    assert none.value == 0
    assert any("second ladle" in words for words in none.warnings)
    many = calculations()["moulds-filled"].run(metal=21, mould=4)
    assert many.value == 5
    assert any("coldest" in words for words in many.warnings)


def test_nonsense_is_refused() -> None:
    with pytest.raises(OutOfRange, match="freeboard"):
        ladle_holds(150, 150, 100, 100, 6900)
    with pytest.raises(OutOfRange, match="heel: 30 kg is all of the 20 kg"):
        moulds_filled(20, 30, 2)
    with pytest.raises(OutOfRange, match="more than the 8 kg poured"):
        calculations()["casting-yield"].run(casting=9, poured=8)


def test_yield_of_a_mould() -> None:
    # Old shop percentages (read): 9 t of 75 t is 12 %.
    assert calculations()["casting-yield"].run(casting=9, poured=75).value == pytest.approx(12)
