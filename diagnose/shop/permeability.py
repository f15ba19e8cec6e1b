"""Permeability number: how readily air passes a rammed specimen."""

from __future__ import annotations

import math
from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.series import Reading, within

SPECIMENS: Final = {"2-inch": 5.08, "50-mm": 5.0}
"""Diameter and height of the standard specimens, cm."""

AIR: Final = 2000.0
"""Air that is passed through in the standard test, cm3."""


def permeability(
    volume: Reading, height: Reading, pressure: Reading, area: Reading, minutes: Reading
) -> Reading:
    """Return the permeability number V H / (p A t).

    ``volume`` of air in cm3, ``height`` of the specimen in cm, ``pressure`` in g/cm2 (the same
    figure as cm of water), ``area`` in cm2, time in **minutes**; all above 0. Arrays give arrays.

    References: laboratory sheets on the permeability test (read); a worked problem gives 0.225:

    >>> round(permeability(6.0, 3.0, 8.0, 5.0, 2.0), 3)
    0.225
    """
    within("volume", volume, "cm3", above=True)
    within("height", height, "cm", above=True)
    within("pressure", pressure, "g/cm2", above=True)
    within("area", area, "cm2", above=True)
    within("time", minutes, "min", above=True)
    return volume * height / (pressure * area * minutes)


def timed_permeability(pressure: Reading, seconds: Reading, specimen: str = "2-inch") -> Reading:
    """Return the permeability number of a standard specimen that passed 2000 cm3 of air.

    ``pressure`` in g/cm2, time in **seconds**; ``specimen`` is a key of ``SPECIMENS``. The 50 mm
    specimen reads 1.6 % higher than the 2-inch one for the same pressure and time.

    References: laboratory sheet, Foundry Shop Exp-3 (read): 9.6 cm of water, 36 s, printed 87:

    >>> round(timed_permeability(9.6, 36.0), 1)
    87.0
    """
    within("time", seconds, "s", above=True)
    size = SPECIMENS[specimen]
    whole = AIR * size / (math.pi / 4 * size**2) * 60.0
    within("pressure", pressure, "g/cm2", above=True)
    return whole / (pressure * seconds)


def permeability_by_orifice(
    pressure: Reading, known: float, known_pressure: float, supply: float = 10.0
) -> Reading:
    """Return the permeability number from the pressure under the specimen, behind an orifice.

    ``pressure`` is the reading, ``known_pressure`` what the same tester and orifice read on a
    specimen whose number ``known`` was found by the timed test, ``supply`` the pressure before
    the orifice; all in g/cm2, readings between 0 and the supply.

    An orifice passes air as the root of the pressure it drops, the specimen in proportion to the
    pressure it drops; equal flows give P = P' (p'/p) sqrt((s - p)/(s - p')).

    References: derived; no published table was read. Use the table of the tester where there is
    one.

    >>> permeability_by_orifice(6.0, 80.0, 6.0)
    80.0
    """
    within("pressure", pressure, "g/cm2", 0.0, supply, above=True)
    within("known pressure", known_pressure, "g/cm2", 0.0, supply, above=True)
    within("drop at the known pressure", supply - known_pressure, "g/cm2", above=True)
    root: Reading = ((supply - pressure) / (supply - known_pressure)) ** 0.5
    return known * known_pressure / pressure * root


def _work_general(
    volume: float, height: float, pressure: float, area: float, minutes: float
) -> Worked:
    value = permeability(volume, height, pressure, area, minutes)
    numbers = (
        f"{figure(volume)} x {figure(height)} / "
        f"({figure(pressure)} x {figure(area)} x {figure(minutes)})"
    )
    formula = "permeability = air x height / (pressure x area x minutes)"
    return Worked(
        value,
        "AFS",
        steps(formula, numbers, value, ""),
        _GENERAL.source,
        ("time is in minutes: seconds would give a number 60 times too small",),
    )


def _work_timed(pressure: float, seconds: float, specimen: str) -> Worked:
    value = timed_permeability(pressure, seconds, specimen)
    constant = value * pressure * seconds
    formula = f"permeability = {figure(constant)} / (pressure x seconds), {specimen} specimen"
    numbers = f"{figure(constant)} / ({figure(pressure)} x {figure(seconds)})"
    other = next(each for each in SPECIMENS if each != specimen)
    there = timed_permeability(pressure, seconds, other)
    return Worked(
        value,
        "AFS",
        steps(formula, numbers, value, ""),
        _TIMED.source,
        (f"on a {other} specimen the same reading means {figure(there)}: know your tube",),
    )


def _work_orifice(pressure: float, known: float, known_pressure: float, supply: float) -> Worked:
    value = permeability_by_orifice(pressure, known, known_pressure, supply)
    numbers = (
        f"{figure(known)} x {figure(known_pressure)} / {figure(pressure)} x root of "
        f"(({figure(supply)} - {figure(pressure)}) / ({figure(supply)} - {figure(known_pressure)}))"
    )
    formula = "permeability = known x known p / p x root of ((supply - p) / (supply - known p))"
    return Worked(
        value,
        "AFS",
        steps(formula, numbers, value, ""),
        _ORIFICE.source,
        ("derived from how an orifice passes air: the tester's own table goes before it",),
    )


_PRESSURE = Input("pressure", "air pressure under the specimen, in cm of water", "g/cm2", 0.1, 100)
_GENERAL = Calculation(
    "permeability",
    "Permeability number, any specimen",
    (
        Input("volume", "air passed through the specimen", "cm3", 0.1, 10000),
        Input("height", "height of the specimen", "cm", 0.1, 50),
        _PRESSURE,
        Input("area", "cross-section of the specimen", "cm2", 0.1, 500),
        Input("minutes", "time the air took", "min", 0.01, 120),
    ),
    "AFS",
    "P = V H / (p A t), t in minutes: laboratory sheets on the permeability test (read).",
    _work_general,
)
_TIMED = Calculation(
    "permeability-timed",
    "Permeability number of a standard specimen, 2000 cm3 of air",
    (
        _PRESSURE,
        Input("seconds", "time for 2000 cm3 of air", "s", 0.5, 7200),
        Input("specimen", "which tube", "", choices=tuple(SPECIMENS), default="2-inch"),
    ),
    "AFS",
    "2-inch: Foundry Shop Exp-3, laboratory sheet (read); 50 mm: MEM564 laboratory sheet, 2014 "
    "(read).",
    _work_timed,
)
_ORIFICE = Calculation(
    "permeability-by-orifice",
    "Permeability number from an orifice tester's gauge",
    (
        Input("pressure", "reading of the gauge", "g/cm2", 0.01, 9.99),
        Input("known", "timed number of a specimen tried on this tester", "AFS", 1, 2000),
        Input("known_pressure", "what the gauge read on that specimen", "g/cm2", 0.01, 9.99),
        Input("supply", "pressure before the orifice", "g/cm2", 1, 20, default=10),
    ),
    "AFS",
    "Derived: flow through an orifice goes as the root of its pressure drop. No published table "
    "was read.",
    _work_orifice,
)
CALCULATIONS = (_GENERAL, _TIMED, _ORIFICE)
