"""Gas from cores, vents and sand: limits that physics sets."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.gas import (
    BINDER_YIELD,
    binder_gas,
    gas_density,
    gas_viscosity,
    hot_volume,
    reynolds,
    sand_back_pressure,
    steam,
    strip_time,
    vent_flow,
)
from diagnose.shop.permeability import permeability
from diagnose.shop.physics import MOLAR_VOLUME

UNITS = pint.UnitRegistry()
bores = st.floats(2, 20)
lengths = st.floats(10, 500)
pressures = st.floats(0.05, 20)


def test_constants_against_published_ones() -> None:
    # CODATA molar volume 22.41396954 l/mol; air at 20 degC 18.2 uPa s, at 600 degC 39 uPa s and
    # 1.293 kg/m3 at 0 degC are values of any table of air, given here from memory.
    assert pytest.approx(22413.96954, rel=1e-9) == MOLAR_VOLUME
    assert gas_viscosity(20.0) == pytest.approx(18.2e-6, rel=0.01)
    assert gas_viscosity(600.0) == pytest.approx(39e-6, rel=0.03)
    assert gas_density(0.0, 28.97) == pytest.approx(1.293, rel=0.002)


def test_damp_sand_outgases_a_core() -> None:
    # 82 % lost as 33.3 g/mol (International Journal of Metalcasting, 2012): 552 cm3 a gram.
    assert pytest.approx(552, abs=0.5) == BINDER_YIELD
    assert steam(1.0, 3.0) > 6 * binder_gas(1.0, 1.0)


@given(st.floats(0, 100), st.floats(-20, 1400))
def test_gas_grows_with_absolute_temperature(volume: float, temperature: float) -> None:
    ratio = (temperature + 273.15) / 273.15
    assert hot_volume(volume, temperature) == pytest.approx(volume * ratio)


@given(bores, lengths, pressures)
def test_a_vent_passes_less_than_either_law_alone(
    bore: float, length: float, pressure: float
) -> None:
    flow = vent_flow(bore, length, pressure, 600.0)
    d, run = bore * UNITS.mm, length * UNITS.mm
    viscosity = gas_viscosity(600.0) * UNITS.pascal * UNITS.second
    poiseuille = math.pi * d**4 * (pressure * UNITS.kPa) / (128 * viscosity * run)
    density = gas_density(600.0) * UNITS.kg / UNITS.m**3
    speed = (2 * pressure * UNITS.kPa / (1.5 * density)) ** 0.5
    hole = math.pi / 4 * d**2 * speed
    slack = 1 + 1e-9
    assert flow <= poiseuille.to("l/s").magnitude * slack
    assert flow <= hole.to("l/s").magnitude * slack


def test_a_long_thin_vent_follows_poiseuille() -> None:
    law = math.pi * 0.001**4 * 10 / (128 * gas_viscosity(20.0) * 1.0) * 1000
    assert vent_flow(1.0, 1000.0, 0.01, 20.0) == pytest.approx(law, rel=0.001)


@given(bores, lengths, pressures, st.floats(1.05, 2))
def test_wider_shorter_or_harder_pushed_passes_more(
    bore: float, length: float, pressure: float, more: float
) -> None:
    flow = vent_flow(bore, length, pressure, 600.0)
    assert vent_flow(bore * more, length, pressure, 600.0) > flow
    assert vent_flow(bore, length / more, pressure, 600.0) > flow
    assert vent_flow(bore, length, pressure * more, 600.0) > flow
    assert reynolds(flow * more, bore, 600.0) > reynolds(flow, bore, 600.0)


@given(st.floats(0.001, 1), st.floats(5, 300), st.floats(1, 500), st.floats(10, 300))
def test_back_pressure_turns_the_permeability_test_round(
    flow: float, length: float, area: float, number: float
) -> None:
    kilopascal = sand_back_pressure(flow, length, area, number, 20.0)
    in_grams = kilopascal / 0.0980665
    assert permeability(flow * 60000, length / 10, in_grams, area, 1.0) == pytest.approx(number)


def test_hot_gas_is_harder_to_push() -> None:
    cold, hot = (sand_back_pressure(0.1, 50.0, 20.0, 80.0, each) for each in (20.0, 600.0))
    assert 1.9 < hot / cold < 2.3


@given(st.floats(1, 100), st.floats(0, 40), st.floats(0, 40))
def test_strip_time_there_and_back(minutes: float, warm: float, cold: float) -> None:
    assert strip_time(strip_time(minutes, warm, cold), cold, warm) == pytest.approx(minutes)


def test_fifteen_degrees_fahrenheit_are_not_9_4_kelvin() -> None:
    step = UNITS.Quantity(15, UNITS.delta_degF).to(UNITS.delta_degC).magnitude
    assert strip_time(20.0, 25.0, 25.0 - step) == pytest.approx(40)
    assert strip_time(20.0, 25.0, 25.0 - 9.4) > 43


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_nonsense_is_refused(bad: float) -> None:
    with pytest.raises(OutOfRange):
        binder_gas(bad, 1.0)
    with pytest.raises(OutOfRange):
        vent_flow(6.0, 200.0, bad, 600.0)
    with pytest.raises(OutOfRange):
        sand_back_pressure(bad, 50.0, 20.0, 80.0, 600.0)
    with pytest.raises(OutOfRange):
        hot_volume(1.0, -300.0)
