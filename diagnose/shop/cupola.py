"""The cupola: coke bed, melting rate, coke and air."""

from __future__ import annotations

import math
from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.physics import MOLAR_VOLUME
from diagnose.shop.series import within

_EXAMPLE = "Cupola charge calculations, worked example (read)."
_CARBON: Final = 12.011
"""Atomic weight of carbon (IUPAC)."""

_OXYGEN: Final = 0.2095
"""Share of oxygen in dry air by volume."""

_FUMES: Final = (
    "cupola gas kills: carbon monoxide at the charging door and round leaks; keep the air moving "
    "and a monitor on, follow the local code"
)


def shaft_area(diameter: float) -> float:
    """Return the inside area of the shaft in cm2 from its diameter in mm."""
    within("diameter", diameter, "mm", above=True)
    return math.pi / 4 * (diameter / 10) ** 2


def coke_bed(diameter: float, height: float, density: float) -> float:
    """Return the weight of the coke bed in kg; diameter and height in mm, density in kg/m3.

    References: worked example (read), 320 kg from 0.75 m, 1.5 m and 482 kg/m3.

    >>> round(coke_bed(750, 1500, 482), 1)
    319.4
    """
    return shaft_area(diameter) / 1e4 * height / 1000 * density


def melting_rate(diameter: float, rate: float) -> float:
    """Return the iron melted in kg/h; diameter in mm, ``rate`` in kg/h for each cm2 of shaft.

    >>> round(melting_rate(750, 0.562), 1)
    2482.8
    """
    return shaft_area(diameter) * rate


def coke_per_hour(rate: float, ratio: float) -> float:
    """Return the charge coke in kg/h for ``rate`` kg/h of iron at ``ratio`` kg iron to 1 of coke.

    >>> round(coke_per_hour(2482.8, 10))
    248
    """
    within("ratio of iron to coke", ratio, "", above=True)
    return rate / ratio


def air_for_coke(coke: float, carbon: float, half_burnt: float) -> float:
    """Return the air in m3 (0 degC, dry) that burns ``coke`` kg holding ``carbon`` %.

    ``half_burnt`` is the share in % of the carbon that leaves as carbon monoxide.

    >>> round(air_for_coke(100, 88, 0)), round(air_for_coke(100, 88, 100))
    (784, 392)
    """
    kilomoles = coke * carbon / 100 / _CARBON
    oxygen = kilomoles * (1 - half_burnt / 200)
    return oxygen * MOLAR_VOLUME / 1000 / _OXYGEN


def _work_bed(diameter: float, height: float, density: float) -> Worked:
    value = coke_bed(diameter, height, density)
    lines = steps(
        "coke bed = pi/4 x diameter^2 x height x density of the coke",
        f"pi/4 x {figure(diameter / 1000)}^2 x {figure(height / 1000)} x {figure(density)}",
        value,
        "kg",
    )
    return Worked(value, "kg", lines, _EXAMPLE, (_FUMES,))


def _work_rate(diameter: float, rate: float) -> Worked:
    value = melting_rate(diameter, rate)
    lines = steps(
        "melting rate = area of the shaft x rate on each cm2",
        f"{figure(shaft_area(diameter))} x {figure(rate)}",
        value,
        "kg/h",
    )
    warnings = ("the rate on each cm2 is one textbook figure: put in your own from the tap log",)
    return Worked(value, "kg/h", lines, _EXAMPLE, warnings)


def _work_coke(rate: float, ratio: float) -> Worked:
    value = coke_per_hour(rate, ratio)
    lines = steps(
        "coke = melting rate / iron to coke", f"{figure(rate)} / {figure(ratio)}", value, "kg/h"
    )
    warnings = ("more iron to the coke means colder iron",) if ratio > 10 else ()
    return Worked(value, "kg/h", lines, _EXAMPLE, warnings)


def _work_air(coke: float, carbon: float, half_burnt: float) -> Worked:
    value = air_for_coke(coke, carbon, half_burnt)
    lines = steps(
        "air = kmol of carbon x (1 - half burnt share / 2) x 22.41 / 0.2095",
        f"{figure(coke * carbon / 100 / _CARBON)} x (1 - {figure(half_burnt)} / 200)"
        f" x {figure(MOLAR_VOLUME / 1000)} / {_OXYGEN}",
        value,
        "m3",
    )
    warnings = ("a rule of thumb has 700 m3 to 100 kg of coke and a tonne of iron (read)", _FUMES)
    return Worked(value, "m3", lines, _AIR_SOURCE, warnings)


_AIR_SOURCE = "Combustion of carbon to CO2 and CO; molar volume at 0 degC, air with 20.95 % oxygen."
_DIAMETER = Input("diameter", "inside diameter of the shaft", "mm", 200, 2500)
CALCULATIONS = (
    Calculation(
        "coke-bed",
        "Weight of the coke bed",
        (
            _DIAMETER,
            Input("height", "height of the bed", "mm", 300, 3000),
            Input("density", "density of the coke as it lies", "kg/m3", 350, 650, default=482),
        ),
        "kg",
        _EXAMPLE,
        _work_bed,
    ),
    Calculation(
        "melting-rate",
        "Melting rate of a cupola",
        (
            _DIAMETER,
            Input("rate", "iron on each cm2 of the shaft", "kg/h", 0.3, 1.2, default=0.562),
        ),
        "kg/h",
        _EXAMPLE,
        _work_rate,
    ),
    Calculation(
        "coke-per-hour",
        "Coke for the melting rate",
        (
            Input("rate", "iron melted", "kg/h", 50, 50000),
            Input("ratio", "iron melted by 1 kg of charge coke", "kg", 4, 20),
        ),
        "kg/h",
        _EXAMPLE,
        _work_coke,
    ),
    Calculation(
        "cupola-air",
        "Air to burn the coke",
        (
            Input("coke", "coke burnt", "kg", 1, 10000),
            Input("carbon", "carbon in the coke", "%", 50, 100, default=88),
            Input("half_burnt", "share of the carbon that leaves as CO", "%", 0, 100, default=0),
        ),
        "m3",
        _AIR_SOURCE,
        _work_air,
    ),
)
