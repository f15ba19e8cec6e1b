"""Readings as people write them: a number and a unit, turned into the unit that is wanted."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from diagnose.basics.errors import Fault

_NUMBER = r"[-+\u2212]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][-+]?\d+)?"
_READING = re.compile(rf"({_NUMBER})\s*(.*)", re.DOTALL)
_THOUSANDS = re.compile(r"[-+]?[1-9]\d{0,2}(,\d{3})+")
LONGEST = 500
"""Characters of text that may hold the readings of one quantity."""


@dataclass(frozen=True, slots=True)
class Unit:
    """``value_in_base = value * factor + offset``; units of one ``kind`` can be converted."""

    kind: str
    factor: float = 1.0
    offset: float = 0.0


UNITS: dict[str, Unit] = {
    "%": Unit("share"),
    "degC": Unit("temperature"),
    "degF": Unit("temperature", 5.0 / 9.0, -160.0 / 9.0),
    "K": Unit("temperature", 1.0, -273.15),
    "mm": Unit("length"),
    "cm": Unit("length", 10.0),
    "m": Unit("length", 1000.0),
    "in": Unit("length", 25.4),
    "ft": Unit("length", 304.8),
    "thou": Unit("length", 0.0254),
    "um": Unit("length", 0.001),
    "s": Unit("time"),
    "min": Unit("time", 60.0),
    "h": Unit("time", 3600.0),
    "d": Unit("time", 86400.0),
    "kg": Unit("mass"),
    "g": Unit("mass", 0.001),
    "lb": Unit("mass", 0.45359237),
    "kPa": Unit("pressure"),
    "kN/m2": Unit("pressure"),
    "psi": Unit("pressure", 6.894757293168361),
    "MPa": Unit("pressure", 1000.0),
    "N/mm2": Unit("pressure", 1000.0),
    "N/cm2": Unit("pressure", 10.0),
    "kg/cm2": Unit("pressure", 98.0665),
    "ksi": Unit("pressure", 6894.757293168361),
    "tsi": Unit("pressure", 15444.256336697129),
    "mbar": Unit("pressure", 0.1),
    "g/cm2": Unit("pressure", 0.0980665),
    "N": Unit("force"),
    "kN": Unit("force", 1000.0),
    "lbf": Unit("force", 4.4482216152605),
    "mm2": Unit("area"),
    "cm2": Unit("area", 100.0),
    "m2": Unit("area", 1e6),
    "in2": Unit("area", 645.16),
    "mm3": Unit("volume", 0.001),
    "cm3": Unit("volume"),
    "ml": Unit("volume"),
    "l": Unit("volume", 1000.0),
    "m3": Unit("volume", 1e6),
    "in3": Unit("volume", 16.387064),
    "kg/m3": Unit("density"),
    "g/cm3": Unit("density", 1000.0),
    "g/l": Unit("density"),
    "mm/s": Unit("speed"),
    "cm/s": Unit("speed", 10.0),
    "m/s": Unit("speed", 1000.0),
    "kg/s": Unit("mass flow"),
    "kg/h": Unit("mass flow", 1 / 3600.0),
    "cm3/s": Unit("volume flow"),
    "l/s": Unit("volume flow", 1000.0),
    "ppm": Unit("share", 0.0001),
    "Pa s": Unit("viscosity"),
    "degrees": Unit("angle"),
    "AFS": Unit("permeability number"),
    "GFN": Unit("grain fineness number"),
    "B": Unit("mould hardness, B scale"),
    "sieves": Unit("number of sieves"),
    "ratio": Unit("ratio"),
    "cm3/g": Unit("gas volume"),
    "s/mm2": Unit("mould constant"),
    "s/cm2": Unit("mould constant", 0.01),
    "min/in2": Unit("mould constant", 60.0 / 645.16),
    "ug/m3": Unit("dust in air"),
    "mg/m3": Unit("dust in air", 1000.0),
}
"""Exact by definition: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, 1 psi = 6.894757293168361 kPa,
1 lbf = 4.4482216152605 N; 1 g/cm2 of air pressure is that of 1 cm of water, 98.0665 Pa; 1 kg/cm2 is
1 kilogram-force on it; 1 tsi is 2240 lbf on a square inch, the ton of the British test house."""

_SPELLINGS = {
    "percent": "%",
    "per cent": "%",
    "pct": "%",
    "°c": "degC",
    "c": "degC",
    "deg c": "degC",
    "celsius": "degC",
    "°f": "degF",
    "f": "degF",
    "deg f": "degF",
    "fahrenheit": "degF",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "sec": "s",
    "secs": "s",
    "seconds": "s",
    "mins": "min",
    "minutes": "min",
    "hr": "h",
    "hrs": "h",
    "hours": "h",
    "lbs": "lb",
    "micron": "um",
    "microns": "um",
    "µ": "um",
    "µm": "um",
    "μm": "um",
    "mil": "thou",
    "mils": "thou",
    "foot": "ft",
    "feet": "ft",
    "'": "ft",
    "day": "d",
    "days": "d",
    "kgf/cm2": "kg/cm2",
    "tons/sq in": "tsi",
    "ton/sq in": "tsi",
    "tons/in2": "tsi",
    "ton": "tsi",
    "tons": "tsi",
    "g/cc": "g/cm3",
    "kg/l": "g/cm3",
    "gm": "g",
    "hb": "ratio",
    "bhn": "ratio",
    "hbw": "ratio",
    "/mm2": "ratio",
    "x": "ratio",
    "perm": "AFS",
    "screens": "sieves",
    "screen": "sieves",
    "ml/gm": "cm3/g",
    "litre": "l",
    "litres": "l",
    "liter": "l",
    "liters": "l",
    "µg/m3": "ug/m3",
    "μg/m3": "ug/m3",
    "cc/g": "cm3/g",
    "ml/g": "cm3/g",
}
BARE = {"AFS", "GFN", "B", "sieves", "ratio"}
"""Units of numbers that the trade writes bare."""
STEP = "K"
"""What is wanted in K is a difference of two temperatures, never a temperature: it has no zero
point, and 1 K is 1 degC or 1.8 degF."""


def unit_shown(unit: str) -> str:
    """Return a unit as it stands behind a figure: nothing where the name says what over what.

    >>> unit_shown("ratio"), unit_shown("mm")
    ('', 'mm')
    """
    return "" if unit == "ratio" else unit


def unit_named(text: str) -> str | None:
    """Return the unit that ``text`` spells, or None.

    >>> unit_named("°C"), unit_named("Inches"), unit_named("cm³"), unit_named("furlong")
    ('degC', 'in', 'cm3', None)
    """
    if text in UNITS:
        return text
    lower = text.lower().rstrip(".").replace("²", "2").replace("³", "3")
    same = next((unit for unit in UNITS if unit.lower() == lower), None)
    return same or _SPELLINGS.get(lower)


def fitting_units(unit: str) -> list[str]:
    """Return all units that can be turned into ``unit``."""
    return [name for name, other in UNITS.items() if other.kind == UNITS[unit].kind]


def convert(value: float, unit: str, wanted: str) -> float:
    """Turn ``value`` from one unit into another of the same kind.

    >>> round(convert(2372, "degF", "degC"), 6)
    1300.0
    """
    if unit == wanted:
        return value
    start, end = UNITS[unit], UNITS[wanted]
    if start.kind != end.kind:
        raise ValueError(f"{unit} cannot be turned into {wanted}")
    return (value * start.factor + start.offset - end.offset) / end.factor


def convert_step(value: float, unit: str, wanted: str) -> float:
    """Turn a difference of two readings, or their scatter, from one unit into another of its kind.

    >>> round(convert_step(90, "degF", "degC"), 6)
    50.0
    """
    start, end = UNITS[unit], UNITS[wanted]
    if start.kind != end.kind:
        raise ValueError(f"{unit} cannot be turned into {wanted}")
    return value * (start.factor / end.factor)


def read_quantity(text: str, wanted: str, name: str) -> tuple[float, ...]:
    """Return the readings that ``text`` holds, in the unit ``wanted``.

    Several readings of one quantity are parted by commas followed by a space, by semicolons or
    by "and"; a unit behind the last one serves them all. Raises Fault with the units that fit.

    >>> read_quantity("4.4, 4.6 %", "%", "moisture")
    (4.4, 4.6)
    >>> read_quantity("1,310 degC", "degC", "pouring temperature")
    (1310.0,)
    >>> read_quantity("90 degF", "K", "superheat")
    (50.0,)
    """
    if len(text) > LONGEST:
        raise Fault(f"{name}: this is too long for readings. {_example(wanted)}")
    split = (part.strip() for part in re.split(r";|,\s|\sand\s", text))
    parts = [part for part in split if part]
    if not parts:
        raise Fault(f"{name}: there is no reading. {_example(wanted)}")
    matches = [_READING.fullmatch(part) for part in parts]
    units = [match.group(2) if match else "" for match in matches]
    values = []
    for part, match, unit in zip(parts, matches, units, strict=True):
        if match is None:
            raise Fault(f"{name}: {part!r} is not a number with a unit. {_example(wanted)}")
        values.append(_value(_number(match.group(1)), unit or units[-1], wanted, name))
    return tuple(values)


def _number(text: str) -> float:
    """Read a number; a comma before exactly three digits parts thousands, else decimals.

    >>> _number("1,310"), _number("0,125"), _number("4,6")
    (1310.0, 0.125, 4.6)
    """
    text = text.replace("\u2212", "-")
    if _THOUSANDS.fullmatch(text):
        return float(text.replace(",", ""))
    return float(text.replace(",", "."))


def _value(value: float, unit_text: str, wanted: str, name: str) -> float:
    if not math.isfinite(value):
        raise Fault(f"{name}: {value} is not a reading. {_example(wanted)}")
    if not unit_text:
        if wanted in BARE:
            return value
        fits = " or ".join(fitting_units(wanted))
        raise Fault(f"{name}: {value:g} has no unit. Say which: {fits}. {_example(wanted)}")
    unit = unit_named(unit_text)
    if unit is None or UNITS[unit].kind != UNITS[wanted].kind:
        what = "is not a unit known here" if unit is None else f"does not fit {UNITS[wanted].kind}"
        raise Fault(f"{name}: {unit_text!r} {what}. {_takes(wanted)}")
    return convert_step(value, unit, wanted) if wanted == STEP else convert(value, unit, wanted)


def _takes(wanted: str) -> str:
    if wanted == "ratio":
        return "It is a plain number, without a unit."
    return f"It takes {' or '.join(fitting_units(wanted))}."


def _example(wanted: str) -> str:
    samples = {"%": "4.6 %", "degC": "1310 degC", "mm": "8 mm", "min": "6 min", "ratio": "1.5"}
    return f"Write it like this: {samples.get(wanted, f'12 {wanted}')}."
