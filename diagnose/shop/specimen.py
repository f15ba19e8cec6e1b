"""Sand tests on the rammed specimen and the tube: compactability, density, strength, water."""

from __future__ import annotations

import math

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.physics import PSI
from diagnose.shop.series import Reading, within

_TJFS = "TJFS test methods for green sand (read)"


def compactability(loose: Reading, rammed: Reading) -> Reading:
    """Return the height a loosely filled tube loses on standard ramming, in per cent.

    Heights in mm, above 0, ``rammed`` not above ``loose``.

    References: two trade articles on compactability (read); the figures are our own:

    >>> round(compactability(100.0, 58.0), 9)
    42.0
    """
    within("loose height", loose, "mm", above=True)
    within("rammed height", rammed, "mm", above=True)
    within("loose height less rammed height", loose - rammed, "mm")
    return (loose - rammed) / loose * 100.0


def green_density(mass: Reading, diameter: Reading, height: Reading) -> Reading:
    """Return the density of a rammed specimen in g/cm3 from grams and millimetres.

    References: TJFS-104 (read); the figures are our own:

    >>> round(green_density(155.0, 50.0, 50.0), 3)
    1.579
    """
    within("mass", mass, "g", above=True)
    within("diameter", diameter, "mm", above=True)
    within("height", height, "mm", above=True)
    return mass / (math.pi / 4 * diameter * diameter * height) * 1000.0


def green_compression(load: Reading, diameter: Reading) -> Reading:
    """Return the green compression strength in kPa from the breaking load in N, diameter in mm.

    References: exact by definition. A lab report prints 14.45 psi as 101.35 kN/m2; it is 99.63:

    >>> round(green_compression(14.45 * PSI * math.pi / 4 * 50.8**2 / 1000, 50.8), 2)
    99.63
    """
    within("load", load, "N")
    within("diameter", diameter, "mm", above=True)
    return load / (math.pi / 4 * diameter * diameter) * 1000.0


def water_sensitivity(
    moisture: tuple[Reading, Reading], compactability: tuple[Reading, Reading]
) -> Reading:
    """Return the moisture in per cent that moves compactability by ten points.

    Two states of one sand, in per cent; the compactabilities must differ.

    References: TJFS-109 (read); the figures are our own:

    >>> round(water_sensitivity((3.1, 3.9), (36.0, 46.0)), 9)
    0.8
    """
    for each in (*moisture, *compactability):
        within("reading", each, "%", 0.0, 100.0)
    span = compactability[1] - compactability[0]
    within("difference of compactability", span * span, "points squared", 0.0, above=True)
    return (moisture[1] - moisture[0]) / span * 10.0


def mouldability(passed: Reading, charged: float = 200.0) -> Reading:
    """Return the per cent of a charge that the slotted drum lets through.

    References: TJFS-112 (read): 200 g, 2380 micrometre drum, 57 rev/min, 10 s.

    >>> mouldability(150.0)
    75.0
    """
    within("charge", charged, "g", above=True)
    within("passed", passed, "g", 0.0, charged)
    return passed / charged * 100.0


def _work_compactability(loose: float, rammed: float) -> Worked:
    value = compactability(loose, rammed)
    numbers = f"({figure(loose)} - {figure(rammed)}) / {figure(loose)} x 100"
    warnings = []
    if value < 35:
        warnings.append("under 35 %: friable edges, broken pockets, crush and penetration (read)")
    if value > 50:
        warnings.append("over 50 %: rough skin, expansion faults, gas, blows and swells (read)")
    return Worked(
        value,
        "%",
        steps("compactability = height lost / loose height x 100", numbers, value, "%"),
        _COMPACTABILITY.source,
        tuple(warnings),
    )


def _work_density(mass: float, diameter: float, height: float) -> Worked:
    value = green_density(mass, diameter, height)
    numbers = f"{figure(mass)} / (0.7854 x {figure(diameter)}^2 x {figure(height)}) x 1000"
    formula = "green density = mass / (pi/4 x diameter^2 x height)"
    return Worked(value, "g/cm3", steps(formula, numbers, value, "g/cm3"), _DENSITY.source)


def _work_compression(load: float, diameter: float) -> Worked:
    value = green_compression(load, diameter)
    numbers = f"{figure(load)} / (0.7854 x {figure(diameter)}^2) x 1000"
    outside = not 30 <= value <= 160
    return Worked(
        value,
        "kPa",
        (
            *steps("green compression = load / (pi/4 x diameter^2)", numbers, value, "kPa"),
            f"= {figure(value / PSI)} psi",
        ),
        _COMPRESSION.source,
        ("green sands usually lie at 30 to 160 kPa (MEM564 sheet, read)",) if outside else (),
    )


def _work_sensitivity(
    dry_moisture: float, wet_moisture: float, dry_compactability: float, wet_compactability: float
) -> Worked:
    moisture = (dry_moisture, wet_moisture)
    height = (dry_compactability, wet_compactability)
    value = water_sensitivity(moisture, height)
    numbers = (
        f"10 x ({figure(wet_moisture)} - {figure(dry_moisture)}) / "
        f"({figure(wet_compactability)} - {figure(dry_compactability)})"
    )
    formula = "water sensitivity = 10 x change of moisture / change of compactability"
    warnings = []
    if value < 0:
        warnings.append("more water gave less compactability: check the readings or their order")
    return Worked(
        value, "%", steps(formula, numbers, value, "%"), _SENSITIVITY.source, tuple(warnings)
    )


def _work_mouldability(passed: float, charged: float) -> Worked:
    value = mouldability(passed, charged)
    numbers = f"{figure(passed)} / {figure(charged)} x 100"
    formula = "mouldability = passed / charged x 100"
    return Worked(value, "%", steps(formula, numbers, value, "%"), _MOULDABILITY.source)


_COMPACTABILITY = Calculation(
    "compactability",
    "Compactability",
    (
        Input("loose", "height of the loosely filled tube", "mm", 10, 500),
        Input("rammed", "height after standard ramming", "mm", 1, 500),
    ),
    "%",
    "What Do the Numbers Mean?, Modern Casting, 15 Dec 2014, and a testing-machine maker's article "
    "on compactability (both read).",
    _work_compactability,
)
_DENSITY = Calculation(
    "green-density",
    "Density of a rammed specimen",
    (
        Input("mass", "mass of the specimen", "g", 1, 5000),
        Input("diameter", "its diameter", "mm", 5, 500, default=50.8),
        Input("height", "its height", "mm", 5, 500, default=50.8),
    ),
    "g/cm3",
    f"TJFS-104, {_TJFS}.",
    _work_density,
)
_COMPRESSION = Calculation(
    "green-compression",
    "Green compression strength",
    (
        Input("load", "load at which the specimen broke", "N", 0.1, 5000),
        Input("diameter", "diameter of the specimen", "mm", 5, 500, default=50.8),
    ),
    "kPa",
    "Load over area, and 1 psi = 6.894757 kPa by definition.",
    _work_compression,
)
_SENSITIVITY = Calculation(
    "water-sensitivity",
    "Moisture that moves compactability by ten points",
    (
        Input("dry_moisture", "moisture of the drier sand", "%", 0, 20),
        Input("wet_moisture", "moisture of the wetter sand", "%", 0, 20),
        Input("dry_compactability", "compactability of the drier sand", "%", 0, 90),
        Input("wet_compactability", "compactability of the wetter sand", "%", 0, 90),
    ),
    "%",
    f"TJFS-109, {_TJFS}.",
    _work_sensitivity,
)
_MOULDABILITY = Calculation(
    "mouldability",
    "Mouldability",
    (
        Input("passed", "sand that came through the drum", "g", 0, 1000),
        Input("charged", "sand charged", "g", 1, 1000, default=200),
    ),
    "%",
    f"TJFS-112, {_TJFS}.",
    _work_mouldability,
)
CALCULATIONS = (_COMPACTABILITY, _DENSITY, _COMPRESSION, _SENSITIVITY, _MOULDABILITY)
