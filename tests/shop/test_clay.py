"""Live clay and dead clay."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.clay import (
    active_clay,
    dead_clay,
    grams_a_millilitre,
    same_clay_in_other_dye,
)


@given(st.floats(1, 60), st.floats(1, 60), st.floats(0.5, 10))
def test_the_strength_of_the_dye_falls_out(standard: float, sand: float, strength: float) -> None:
    # Standard and sand titrated with the same bottle: any strength gives the same clay.
    here = active_clay(sand, grams_a_millilitre(0.02, standard))
    standard_there, sand_there = (
        same_clay_in_other_dye(each, 3.739, strength) for each in (standard, sand)
    )
    there = active_clay(sand_there, grams_a_millilitre(0.02, standard_there))
    assert there == pytest.approx(here)


def test_a_factor_from_another_bottle_is_four_per_cent_off() -> None:
    # 3.739 g/l in a works instruction, 3.6 g/l on a laboratory sheet.
    ratio = same_clay_in_other_dye(20.0, 3.739, 3.6) / 20.0
    assert ratio == pytest.approx(1.039, abs=0.0005)


def test_the_standard_measures_itself() -> None:
    # 0.5 g of bentonite in 5 g is 10 %.
    assert active_clay(25.0, grams_a_millilitre(0.5, 25.0)) == pytest.approx(10.0)


@given(st.floats(0, 60), st.floats(0, 1))
def test_live_and_dead_make_the_afs_clay(washed: float, part: float) -> None:
    assert dead_clay(washed, washed * part) + washed * part == pytest.approx(washed)


def test_more_live_clay_than_clay_cannot_be() -> None:
    with pytest.raises(OutOfRange, match="AFS clay less live clay"):
        dead_clay(8.0, 9.0)
    with pytest.raises(OutOfRange, match="Repeat the washing and the titration"):
        calculations()["dead-clay"].run(washed=8, active=9)


def test_more_clay_than_sample_cannot_be() -> None:
    with pytest.raises(OutOfRange, match="live clay: 101"):
        active_clay(25.25, 0.2)


def test_outside_the_bond_equations_is_said() -> None:
    worked = calculations()["active-clay"].run(burette=10, calibration=25)
    assert worked.value == pytest.approx(4.0)
    assert "7 to 11 %" in worked.warnings[-1]
