"""The sprue: how fast metal falls in it, and how far it must taper to run full."""

from __future__ import annotations

import math

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.physics import GRAVITY
from diagnose.shop.series import within

_SPRUE_SOURCE = "Falling metal without loss (Torricelli): exam problems agree (read)."


def speed_after_fall(fall: float, start: float = 0.0) -> float:
    """Return the speed in mm/s after a fall in mm from ``start`` mm/s, without loss.

    >>> round(speed_after_fall(12.7)), round(speed_after_fall(200, 500))
    (499, 2043)
    """
    within("fall", fall, "mm")
    return math.sqrt(start**2 + 2 * GRAVITY * 1000 * fall)


def sprue_bottom(flow: float, length: float, basin: float = 0.0) -> float:
    """Return the area in mm2 of the sprue's foot that just runs full.

    ``flow`` in cm3/s, ``length`` of the sprue and depth of metal in the ``basin`` above it in mm.

    References: exam problem (read), 367.43 mm2 for 0.7 L/s and 185 mm.

    >>> round(sprue_bottom(700, 185), 1)
    367.5
    """
    within("flow", flow, "cm3/s", above=True)
    return flow * 1000 / speed_after_fall(length + basin)


def sprue_taper(top: float, basin: float, length: float) -> float:
    """Return the area in mm2 of the sprue's foot for the area of its top, without sucking in air.

    ``basin`` is the depth of metal over the top, ``length`` that of the sprue, in mm.

    References: exam problem (read), 290.7 mm2.

    >>> round(sprue_taper(650, 50, 200), 1)
    290.7
    """
    within("top", top, "mm2", above=True)
    within("basin", basin, "mm", above=True)
    within("length", length, "mm", above=True)
    return top * math.sqrt(basin / (basin + length))


def _work_bottom(flow: float, length: float, basin: float) -> Worked:
    value = sprue_bottom(flow, length, basin)
    lines = steps(
        "foot = flow / (2 x g x (length + basin))^0.5",
        f"{figure(flow * 1000)} mm3/s / {figure(speed_after_fall(length + basin))} mm/s",
        value,
        "mm2",
    )
    across = math.sqrt(4 * value / math.pi)
    warnings = [f"round, that is {figure(across)} mm across"]
    if basin == 0:
        warnings.append("no metal over the sprue: give the depth in the basin, it counts")
    return Worked(value, "mm2", lines, _SPRUE_SOURCE, tuple(warnings))


def _work_taper(top: float, basin: float, length: float) -> Worked:
    value = sprue_taper(top, basin, length)
    lines = steps(
        "foot = top x (basin / (basin + length))^0.5",
        f"{figure(top)} x ({figure(basin)} / {figure(basin + length)})^0.5",
        value,
        "mm2",
    )
    warnings = ("a larger foot sucks in air and mould gas",)
    return Worked(value, "mm2", lines, _SPRUE_SOURCE, warnings)


def _work_fall(fall: float, start: float) -> Worked:
    value = speed_after_fall(fall, start)
    lines = steps(
        "speed = (start^2 + 2 x g x fall)^0.5",
        f"({figure(start)}^2 + 2 x {figure(GRAVITY * 1000)} x {figure(fall)})^0.5",
        value,
        "mm/s",
    )
    return Worked(value, "mm/s", lines, _SPRUE_SOURCE, ("without loss: an upper bound",))


_LENGTH = Input("length", "length of the sprue", "mm", 10, 3000)
CALCULATIONS = (
    Calculation(
        "sprue-foot",
        "Foot of the sprue for a flow",
        (
            Input("flow", "flow of metal", "cm3/s", 1, 20000),
            _LENGTH,
            Input("basin", "depth of metal over the sprue", "mm", 0, 1000, default=0),
        ),
        "mm2",
        _SPRUE_SOURCE,
        _work_bottom,
    ),
    Calculation(
        "sprue-taper",
        "Foot of the sprue for its top",
        (
            Input("top", "area of the top", "mm2", 10, 50000),
            Input("basin", "depth of metal over the sprue", "mm", 1, 1000),
            _LENGTH,
        ),
        "mm2",
        _SPRUE_SOURCE,
        _work_taper,
    ),
    Calculation(
        "fall-speed",
        "Speed of metal after a fall",
        (
            Input("fall", "height of the fall", "mm", 0, 3000),
            Input("start", "speed at the top", "mm/s", 0, 5000, default=0),
        ),
        "mm/s",
        _SPRUE_SOURCE,
        _work_fall,
    ),
)
