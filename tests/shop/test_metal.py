"""The figures that sums of the iron share, against a units library and each other."""

from __future__ import annotations

import pint
import pytest

from diagnose.shop.metal import LIQUID, SOLID, STEFAN_BOLTZMANN

UNITS = pint.UnitRegistry()


def test_radiation_constant_is_that_of_a_units_library() -> None:
    constant = UNITS.Quantity(1, "stefan_boltzmann_constant").to("W/m**2/K**4").magnitude
    assert pytest.approx(constant, rel=1e-9) == STEFAN_BOLTZMANN


def test_old_weighting_rule_weighs_solid_iron() -> None:
    # 0.26 lb to the cubic inch (encyclopaedia, read); liquid iron is about 3 to 4 % lighter.
    rule = UNITS.Quantity(0.26, "lb/inch**3").to("kg/m**3").magnitude
    assert pytest.approx(rule, rel=1e-3) == SOLID
    assert 0.95 < LIQUID / SOLID < 0.98
