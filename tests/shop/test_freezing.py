"""Chvorinov: times and constants there and back, and units."""

from __future__ import annotations

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.freezing import freezing_time, mould_constant, time_ratio
from diagnose.shop.shapes import modulus

UNITS = pint.UnitRegistry()
MODULUS = st.floats(0.5, 200)


def test_units_of_the_constant() -> None:
    assert UNITS.Quantity(1, "min/cm**2").to("s/mm**2").magnitude == pytest.approx(0.6)


@given(MODULUS, st.floats(0.5, 10), st.floats(1.5, 2.5))
def test_there_and_back(size: float, constant: float, power: float) -> None:
    time = freezing_time(size, constant, power)
    assert mould_constant(time, size, power) == pytest.approx(constant)


@given(MODULUS, MODULUS, st.floats(0.5, 10))
def test_the_ratio_needs_no_constant(one: float, other: float, constant: float) -> None:
    ratio = freezing_time(one, constant) / freezing_time(other, constant)
    assert time_ratio(one, other) == pytest.approx(ratio)
    assert time_ratio(one, other) * time_ratio(other, one) == pytest.approx(1)


def test_radii_are_not_moduli() -> None:
    # A question page answers 0.25 for a cylinder of height r and a sphere of radius 2r.
    cylinder = modulus("cylinder", {"diameter": 20, "height": 10})
    sphere = modulus("sphere", {"diameter": 40})
    assert time_ratio(cylinder, sphere) == pytest.approx(0.1406, abs=1e-4)


def test_slim_cylinder_of_an_exam() -> None:
    # Question (inputs read): a cube of 27 cm3 in 180 s, a cylinder of r 1 and h 6 cm; 132.2 s.
    cube = modulus("cube", {"side": 30})
    rod = modulus("cylinder", {"diameter": 20, "height": 60})
    assert freezing_time(rod, mould_constant(180, cube)) == pytest.approx(132.2, abs=0.1)


def test_steel_grows_its_skin_by_one_constant_in_six_units() -> None:
    # Course sheet (read): 0.053 m/h^0.5 printed in six units, rounded by up to 2 %.
    skin = UNITS.Quantity(0.053, "m/hour**0.5")
    for unit, printed in (
        ("cm/min**0.5", 0.684),
        ("cm/s**0.5", 0.0885),
        ("mm/s**0.5", 0.885),
        ("inch/min**0.5", 0.273),
        ("inch/s**0.5", 0.0354),
    ):
        assert skin.to(unit).magnitude == pytest.approx(printed, rel=0.02)
    # And it is Chvorinov's square: a skin of 1 mm on a plate is a modulus of 1 mm.
    rate = skin.to("mm/s**0.5").magnitude
    assert freezing_time(20.0, 1 / rate**2) == pytest.approx((20 / rate) ** 2)


def test_a_series_and_nonsense() -> None:
    assert freezing_time(np.array([5.0, 10.0]), 2.0) == pytest.approx([50, 200])
    with pytest.raises(OutOfRange, match="modulus"):
        freezing_time(0.0, 2.0)
    with pytest.raises(OutOfRange, match="time is missing"):
        calculations()["mould-constant"].run(modulus=5)
