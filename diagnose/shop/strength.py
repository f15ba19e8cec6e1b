"""Tensile strength of grey iron: what a wall of a grade will have, and classes compared."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps
from diagnose.shop.physics import GRAVITY, PSI
from diagnose.shop.series import Reading, within

_Bands = tuple[tuple[float, float, float], ...]
IN_CASTING: Final[Mapping[str, _Bands]] = {
    "150": ((5, 10, 155), (10, 20, 130), (20, 40, 110), (40, 80, 95), (80, 150, 80)),
    "200": ((5, 10, 205), (10, 20, 180), (20, 40, 155), (40, 80, 130), (80, 150, 115)),
    "250": ((5, 10, 250), (10, 20, 225), (20, 40, 195), (40, 80, 170), (80, 150, 155)),
    "300": ((10, 20, 270), (20, 40, 240), (40, 80, 210), (80, 150, 195)),
}
"""By grade (MPa): wall from (not with) and to (with) in mm, and strength expected there, MPa."""

CAST_ON: Final[Mapping[str, _Bands]] = {
    "150": ((20, 40, 120), (40, 80, 110), (80, 150, 100)),
    "200": ((20, 40, 170), (40, 80, 150), (80, 150, 140)),
    "250": ((20, 40, 210), (40, 80, 190), (80, 150, 170)),
    "300": ((20, 40, 250), (40, 80, 220), (80, 150, 210)),
}
"""The same for samples cast on: least strength, MPa."""

PLACES: Final[Mapping[str, Mapping[str, _Bands]]] = {"casting": IN_CASTING, "cast-on": CAST_ON}

SENSITIVITY: Final = 0.18
"""Power by which strength falls with wall; fits the first example of EN 1561, Annex E."""

CLASS_UNITS: Final[Mapping[str, float]] = {
    "ksi": PSI,
    "tonf/in2": PSI * 2.24,
    "kgf/mm2": GRAVITY,
}
"""MPa in one unit of a strength class, by definition (a long ton is 2240 lb)."""

_TABLE_SOURCE = "EN 1561 / ISO 185, strength by wall: two foundry pages that quote it (read)."
_FALL_SOURCE = (
    "Power law through EN 1561:2011, Annex E, example A (read in an excerpt): 270 MPa at 40 mm, "
    "346 at 10 mm, 238 at 80 mm."
)
_CLASS_SOURCE = "Definitions of pound, inch, long ton and kilogram-force; classes of ASTM A48."


def expected_strength(grade: str, wall: float, place: str = "casting") -> float:
    """Return the tensile strength in MPa expected in a wall of ``wall`` mm.

    ``grade`` is 150 to 300, ``place`` casting or cast-on. Raises OutOfRange where the table has
    no figure. References: EN 1561 as quoted by two foundry pages (read).

    >>> expected_strength("250", 15), expected_strength("250", 60, "cast-on")
    (225, 190)
    """
    bands = PLACES[place].get(grade)
    if bands is None:
        raise OutOfRange(f"grade {grade!r} is not known; right would be {', '.join(IN_CASTING)}.")
    for over, up_to, strength in bands:
        if over < wall <= up_to:
            return strength
    raise OutOfRange(
        f"wall: {figure(wall)} mm has no figure for grade {grade} ({place}); right would be above "
        f"{figure(bands[0][0])} to {figure(bands[-1][1])} mm."
    )


def strength_elsewhere(strength: Reading, wall: Reading, other: Reading) -> Reading:
    """Return the strength in MPa in another wall of the same iron; walls in mm.

    References: EN 1561:2011, Annex E, example A (read): 270 MPa at 40 mm, 346 at 10 mm.

    >>> round(strength_elsewhere(270.0, 40.0, 10.0))
    347
    """
    for name, value in (("strength", strength), ("wall", wall), ("other wall", other)):
        within(name, value, "MPa" if name == "strength" else "mm", above=True)
    fallen: Reading = strength * (wall / other) ** SENSITIVITY
    return fallen


def class_in_mpa(strength_class: float, unit: str = "ksi") -> float:
    """Return a strength class in MPa.

    >>> round(class_in_mpa(30), 1)
    206.8
    """
    if unit not in CLASS_UNITS:
        raise OutOfRange(f"unit {unit!r} is not known; right would be {', '.join(CLASS_UNITS)}.")
    return strength_class * CLASS_UNITS[unit]


def _work_expected(grade: str, wall: float, place: str) -> Worked:
    value = expected_strength(grade, wall, place)
    bands = PLACES[place][grade]
    band = next(each for each in bands if each[0] < wall <= each[1])
    working = (
        f"look up grade {grade}, {place}, by wall",
        f"{figure(wall)} mm lies above {figure(band[0])} and up to {figure(band[1])} mm",
        f"= {figure(value)} MPa",
    )
    warnings = (
        "a guide, not a promise; the 2011 edition guides higher in thick walls (270 MPa at 40 mm "
        "for grade 300)",
    )
    return Worked(value, "MPa", working, _TABLE_SOURCE, warnings)


def _work_elsewhere(strength: float, wall: float, other: float) -> Worked:
    value = strength_elsewhere(strength, wall, other)
    lines = steps(
        f"strength there = strength here x (wall here / wall there)^{SENSITIVITY}",
        f"{figure(strength)} x ({figure(wall)} / {figure(other)})^{SENSITIVITY}",
        value,
        "MPa",
    )
    warnings = ["the standard's second example follows no such curve: take it as a guide"]
    if other < 5:
        warnings.append("so thin a wall may freeze white: strength then means nothing")
    return Worked(value, "MPa", lines, _FALL_SOURCE, tuple(warnings))


def _work_class(strength_class: float, unit: str) -> Worked:
    value = class_in_mpa(strength_class, unit)
    lines = steps(
        f"MPa = class x {figure(CLASS_UNITS[unit])}",
        f"{figure(strength_class)} x {figure(CLASS_UNITS[unit])}",
        value,
        "MPa",
    )
    warnings = ("a class speaks of its own test bar, not of the casting",)
    return Worked(value, "MPa", lines, _CLASS_SOURCE, warnings)


CALCULATIONS = (
    Calculation(
        "expected-strength",
        "Strength to expect in a wall",
        (
            Input("grade", "grade of the iron", "", choices=tuple(IN_CASTING)),
            Input("wall", "wall of the casting", "mm", 5, 150),
            Input(
                "place",
                "casting itself or sample cast on",
                "",
                choices=tuple(PLACES),
                default="casting",
            ),
        ),
        "MPa",
        _TABLE_SOURCE,
        _work_expected,
    ),
    Calculation(
        "strength-elsewhere",
        "Strength in another wall of the same iron",
        (
            Input("strength", "strength found", "MPa", 50, 500),
            Input("wall", "wall where it was found", "mm", 3, 200),
            Input("other", "the other wall", "mm", 3, 200),
        ),
        "MPa",
        _FALL_SOURCE,
        _work_elsewhere,
    ),
    Calculation(
        "strength-class",
        "Strength class in MPa",
        (
            Input("strength_class", "number of the class", "", 1, 100),
            Input("unit", "what the number counts", "", choices=tuple(CLASS_UNITS), default="ksi"),
        ),
        "MPa",
        _CLASS_SOURCE,
        _work_class,
    ),
)
