"""Chill: the published wedges, and what sulphur does against silicon."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.series import within

WEDGES: Final[Mapping[str, tuple[float, float, float]]] = {
    "W1": (5.1, 25.4, 101.6),
    "W2": (10.2, 31.8, 101.6),
    "W3": (19.1, 38.1, 101.6),
    "W3.5": (25.4, 44.4, 127.0),
    "W4": (31.8, 50.8, 152.4),
}
"""Base, height and length in mm of the wedges of ASTM A367, Figure 1 (read)."""

_WEDGE_SOURCE = "ASTM A367, wedges W1 to W4 (read in a preview); angle and modulus by geometry."
_OFFSET_SOURCE = (
    "Metallurgy of Cast Iron, c. 1902, p. 303 (read): one point of sulphur (0.01 %) offsets "
    "10 to 15 points of silicon."
)


def wedge_angle(base: float, height: float) -> float:
    """Return the angle of a chill wedge in degrees from base and height in mm.

    References: ASTM A367 gives 32 degrees for the wedge of 25.4 x 44.4 mm (read).

    >>> round(wedge_angle(25.4, 44.4), 1)
    31.9
    """
    within("base", base, "mm", above=True)
    within("height", height, "mm", above=True)
    return math.degrees(2 * math.atan(base / (2 * height)))


def wedge_modulus(base: float, height: float, length: float) -> float:
    """Return volume over cooling surface of a wedge in mm, ends included; sizes in mm.

    References: study of inoculation for thin-wall grey iron (abstract read), 1.1 to 3.5 mm for
    W1 to W3.

    >>> [round(wedge_modulus(*WEDGES[name]), 1) for name in ("W1", "W3")]
    [1.1, 3.5]
    """
    for name, size in (("base", base), ("height", height), ("length", length)):
        within(name, size, "mm", above=True)
    volume = base * height * length / 2
    slope = math.hypot(base / 2, height)
    return volume / ((2 * slope + base) * length + base * height)


def silicon_for_sulphur(sulphur_rise: float, points: float = 12.5) -> float:
    """Return the silicon in % that a rise of sulphur in % undoes; ``points`` from 10 to 15.

    >>> round(silicon_for_sulphur(0.03, 10), 2), round(silicon_for_sulphur(0.03, 15), 2)
    (0.3, 0.45)
    """
    return sulphur_rise * points


def _work_angle(wedge: str) -> Worked:
    base, height, _ = WEDGES[wedge]
    value = wedge_angle(base, height)
    lines = steps(
        "angle = 2 x arctan(base / (2 x height))",
        f"2 x arctan({figure(base)} / (2 x {figure(height)}))",
        value,
        "degrees",
    )
    return Worked(value, "degrees", lines, _WEDGE_SOURCE)


def _work_modulus(wedge: str, base: float, height: float, length: float) -> Worked:
    sizes = (base, height, length) if wedge == "own" else WEDGES[wedge]
    value = wedge_modulus(*sizes)
    base, height, length = sizes
    lines = steps(
        "modulus = volume / (two slopes + base + two ends)",
        f"{figure(base * height * length / 2)} mm3 / "
        f"{figure(base * height * length / 2 / value)} mm2",
        value,
        "mm",
    )
    warnings = (
        "choose the wedge that freezes like the thin part of the casting; pour all wedges at one "
        "temperature: hot iron chills about twice as deep as dull iron (Metallurgy of Cast Iron, "
        "read)",
    )
    return Worked(value, "mm", lines, _WEDGE_SOURCE, warnings)


def _work_offset(sulphur_rise: float, points: float) -> Worked:
    value = silicon_for_sulphur(sulphur_rise, points)
    lines = steps(
        "silicon offset = sulphur rise x points of silicon to a point of sulphur",
        f"{figure(sulphur_rise)} x {figure(points)}",
        value,
        "%",
    )
    low, high = (silicon_for_sulphur(sulphur_rise, end) for end in (10, 15))
    warnings = (
        f"published span 10 to 15 points: {figure(low)} to {figure(high)} %",
        "holds where manganese does not tie up the sulphur; old practice",
    )
    return Worked(value, "%", lines, _OFFSET_SOURCE, warnings)


def _size(name: str, what: str) -> Input:
    return Input(name, f"{what} of your own wedge", "mm", 1, 300, default=25)


CALCULATIONS = (
    Calculation(
        "wedge-angle",
        "Angle of a chill wedge",
        (Input("wedge", "which published wedge", "", choices=tuple(WEDGES)),),
        "degrees",
        _WEDGE_SOURCE,
        _work_angle,
    ),
    Calculation(
        "wedge-modulus",
        "How fast a chill wedge freezes",
        (
            Input("wedge", "which wedge", "", choices=(*WEDGES, "own")),
            _size("base", "base"),
            _size("height", "height"),
            _size("length", "length"),
        ),
        "mm",
        _WEDGE_SOURCE,
        _work_modulus,
    ),
    Calculation(
        "silicon-for-sulphur",
        "Silicon that a rise of sulphur undoes",
        (
            Input("sulphur_rise", "rise of the sulphur", "%", 0, 0.3),
            Input("points", "points of silicon to one of sulphur", "", 10, 15, default=12.5),
        ),
        "%",
        _OFFSET_SOURCE,
        _work_offset,
    ),
)
