"""Readings and their units, held against scipy's and pint's tables of units (CODATA and NIST)."""

from __future__ import annotations

import math
import re
import time
from contextlib import suppress

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from diagnose.basics.errors import Fault
from diagnose.basics.quantity import (
    LONGEST,
    UNITS,
    convert,
    convert_step,
    fitting_units,
    read_quantity,
    unit_named,
)

AGAINST_SCIPY = [
    ("in", "mm", constants.inch * 1000),
    ("cm", "mm", constants.centi / constants.milli),
    ("m", "mm", 1 / constants.milli),
    ("lb", "kg", constants.lb),
    ("g", "kg", constants.gram),
    ("psi", "kPa", constants.psi / constants.kilo),
    ("min", "s", constants.minute),
    ("h", "min", constants.hour / constants.minute),
    ("lbf", "N", constants.lbf),
    ("in2", "mm2", constants.inch**2 / constants.milli**2),
    ("in3", "cm3", constants.inch**3 / constants.centi**3),
    ("l", "cm3", constants.liter / constants.centi**3),
    ("g/cm2", "kPa", constants.gram * constants.g / constants.centi**2 / constants.kilo),
    ("g/cm3", "kg/m3", constants.gram / constants.centi**3),
    ("kg/h", "kg/s", 1 / constants.hour),
    ("l/s", "cm3/s", constants.liter / constants.centi**3),
    ("ppm", "%", constants.micro / constants.centi),
]


@pytest.mark.parametrize(("unit", "wanted", "factor"), AGAINST_SCIPY)
def test_factors_against_scipy(unit: str, wanted: str, factor: float) -> None:
    assert convert(1.0, unit, wanted) == pytest.approx(factor, rel=1e-12)
    assert convert(factor, wanted, unit) == pytest.approx(1.0, rel=1e-12)


@pytest.mark.parametrize(
    ("unit", "name"), [("degC", "Celsius"), ("degF", "Fahrenheit"), ("K", "Kelvin")]
)
@pytest.mark.parametrize("value", [-40.0, 0.0, 20.0, 1310.0, 2400.0])
def test_temperatures_against_scipy(unit: str, name: str, value: float) -> None:
    expected = constants.convert_temperature(value, name, "Celsius")
    assert convert(value, unit, "degC") == pytest.approx(expected, abs=1e-9)


def test_a_kilonewton_on_a_square_metre_is_a_kilopascal() -> None:
    assert convert(constants.kilo / constants.kilo, "kN/m2", "kPa") == 1.0


PINT = {
    "%": "percent", "in": "inch", "lb": "pound", "l": "liter", "degrees": "degree",
    "g/cm2": "gram_force / centimeter**2", "kg/cm2": "kilogram_force / centimeter**2",
    "tsi": "force_long_ton / inch**2",
    "um": "micrometer", "d": "day", "ft": "foot", "ratio": "dimensionless",
    "Pa s": "pascal * second",
}  # fmt: skip
"""Units that pint calls by another name; the others it reads once powers are marked by ``**``."""
OF_THE_TRADE = {"AFS", "GFN", "B", "sieves"}
"""Numbers on scales of the foundry, which no table of units knows and nothing is turned into."""


def in_pint(unit: str) -> str:
    return PINT.get(unit) or re.sub(r"([a-z])([23])", r"\1**\2", unit)


@pytest.mark.parametrize("kind", sorted({unit.kind for unit in UNITS.values()}))
def test_every_unit_against_pint(kind: str) -> None:
    """Pint 0.24 and later, its default registry: every unit against all others of its kind."""
    registry = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    alike = [name for name, unit in UNITS.items() if unit.kind == kind]
    if OF_THE_TRADE & {*alike}:
        assert len(alike) == 1
        return
    for start in alike:
        for end in alike:
            for value in (0.0, 1.0, 1310.0):
                theirs = registry.Quantity(value, in_pint(start)).to(in_pint(end)).magnitude
                assert convert(value, start, end) == pytest.approx(theirs, rel=1e-12, abs=1e-9)
            if kind == "temperature":
                step = f"delta_{end}" if end != "K" else "kelvin"
                begin = f"delta_{start}" if start != "K" else "kelvin"
                theirs = registry.Quantity(90.0, begin).to(step).magnitude
            else:
                theirs = registry.Quantity(90.0, in_pint(start)).to(in_pint(end)).magnitude
            assert convert_step(90.0, start, end) == pytest.approx(theirs, rel=1e-12)


def test_what_pint_does_not_know_is_of_the_trade() -> None:
    registry = pint.UnitRegistry()
    assert {unit for unit in OF_THE_TRADE if unit in UNITS} == OF_THE_TRADE
    assert all(registry.parse_units(in_pint(unit)) for unit in UNITS if unit not in OF_THE_TRADE)


@given(st.sampled_from(sorted(UNITS)), st.floats(-1e6, 1e6), st.data())
def test_there_and_back(unit: str, value: float, data: st.DataObject) -> None:
    other = data.draw(st.sampled_from(fitting_units(unit)))
    assert convert(convert(value, unit, other), other, unit) == pytest.approx(value, abs=1e-6)


@pytest.mark.parametrize(
    ("text", "wanted", "values"),
    [
        ("4.6 %", "%", (4.6,)),
        ("4.6%", "%", (4.6,)),
        ("4,6 %", "%", (4.6,)),
        ("4.6 per cent", "%", (4.6,)),
        (".5 %", "%", (0.5,)),
        ("4.4, 4.6 %", "%", (4.4, 4.6)),
        ("4.4 and 4.6 %", "%", (4.4, 4.6)),
        ("4.4 %; 4.6 %;", "%", (4.4, 4.6)),
        ("4,4; 4,6 %", "%", (4.4, 4.6)),
        ("1,310 degC", "degC", (1310.0,)),
        ("0,125 in", "in", (0.125,)),
        ("1310 °C", "degC", (1310.0,)),
        ("1310 deg C.", "degC", (1310.0,)),
        ("2390 F", "degC", (1310.0,)),
        ("1583.15 K", "degC", (1310.0,)),
        ('2 "', "mm", (50.8,)),
        ("3 inches", "mm", (76.2,)),
        ("10 psi", "kN/m2", (68.94757293168361,)),
        ("70 KPA", "kN/m2", (70.0,)),
        ("1.5 hrs", "min", (90.0,)),
        ("12 s", "min", (0.2,)),
        ("80", "AFS", (80.0,)),
        ("-3 degC", "degC", (-3.0,)),
        ("50 K", "K", (50.0,)),
        ("50 degC", "K", (50.0,)),
        ("90 degF, 99 degF", "K", (50.0, 55.0)),
        ("2 m³", "cm3", (2e6,)),
        ("80 kN/m²", "kPa", (80.0,)),
        ("1.2", "ratio", (1.2,)),
        ("\u22123 degC", "degC", (-3.0,)),
        ("1.31e3 degC", "degC", (1310.0,)),
    ],
)
def test_readings_as_people_write_them(text: str, wanted: str, values: tuple[float, ...]) -> None:
    assert read_quantity(text, wanted, "reading") == pytest.approx(values)


@pytest.mark.parametrize(
    ("text", "wanted", "says"),
    [
        ("", "%", "moisture: there is no reading. Write it like this: 4.6 %."),
        (" ; ", "%", "there is no reading"),
        ("4.6", "%", "4.6 has no unit. Say which: % or ppm."),
        ("1310", "degC", "Say which: degC or degF or K."),
        ("4.4 %, 4.6", "%", "4.6 has no unit"),
        ("4.6 degC", "%", "'degC' does not fit share. It takes % or ppm."),
        (
            "8 furlongs",
            "mm",
            "'furlongs' is not a unit known here. "
            "It takes mm or cm or m or in or ft or thou or um.",
        ),
        ("85 %", "ratio", "'%' does not fit ratio. It is a plain number, without a unit."),
        ("wet", "%", "'wet' is not a number with a unit"),
        ("nan %", "%", "'nan %' is not a number"),
        ("inf %", "%", "'inf %' is not a number"),
        ("1e999 %", "%", "inf is not a reading"),
        ("9" * 400 + " %", "%", "inf is not a reading"),
        ("4.6.1 %", "%", "'.1 %' is not a unit known here"),
        ("4 6 %", "%", "'6 %' is not a unit known here"),
        ("1,310.5 degC", "degC", "'.5 degC' is not a unit known here"),
        ("4 %" + " " * LONGEST, "%", "too long for readings"),
    ],
)
def test_readings_that_cannot_be_read(text: str, wanted: str, says: str) -> None:
    with pytest.raises(Fault) as fault:
        read_quantity(text, wanted, "moisture")
    assert says in str(fault.value)
    assert str(fault.value).startswith("moisture: ")


@given(st.text(), st.sampled_from(sorted(UNITS)))
def test_any_text_is_read_or_refused(text: str, wanted: str) -> None:
    with suppress(Fault):
        values = read_quantity(text, wanted, "reading")
        assert values
        assert all(map(math.isfinite, values))


@given(st.lists(st.floats(-1e9, 1e9), min_size=1, max_size=5), st.sampled_from(sorted(UNITS)))
def test_what_is_written_exactly_is_read_exactly(values: list[float], unit: str) -> None:
    text = "; ".join(map(repr, values)) + f" {unit}"
    assert read_quantity(text, unit, "reading") == tuple(values)


def test_hostile_text_is_refused_at_once() -> None:
    begin = time.perf_counter()
    with pytest.raises(Fault):
        read_quantity("1 " + "a " * 100_000, "%", "reading")
    assert time.perf_counter() - begin < 0.5


@pytest.mark.parametrize("text", ["furlong", "", " ", "°", "%%"])
def test_no_unit_of_that_name(text: str) -> None:
    assert unit_named(text) is None


def test_units_of_another_kind_are_never_converted() -> None:
    with pytest.raises(ValueError, match="psi cannot be turned into mm"):
        convert(1.0, "psi", "mm")
    with pytest.raises(ValueError, match="psi cannot be turned into mm"):
        convert_step(1.0, "psi", "mm")
