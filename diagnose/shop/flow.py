"""Metal in motion: Reynolds number, friction, filling a mould, emptying a ladle."""

from __future__ import annotations

import math
from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps
from diagnose.shop.gating import ABOVE, HEAD, HEIGHT
from diagnose.shop.metal import DENSITY, MOLTEN
from diagnose.shop.physics import GRAVITY
from diagnose.shop.series import within

VISCOSITY: Final = 0.00496
"""Viscosity of liquid iron, Pa s, as in a manufacturing-science problem (read)."""

ENTRANCE: Final = 0.45
"""Loss of head at a square entrance, as a share of the velocity head (read)."""

BEND: Final = 25.0
"""Length of straight gate in diameters that costs as much as a right-angled bend (read)."""

_FRICTION_SOURCE = (
    "Manufacturing science problems, companion to ch. 2 (read): C = 1 / (1 + 0.45 + 4f(L/d + 25 "
    "per bend))^0.5, f = 0.0791 Re^-0.25."
)
_FILL_SOURCE = (
    "Torricelli without the mean-head shortcut: manufacturing science problems 1 and 2 (read)."
)
_NOZZLE_SOURCE = "Torricelli: manufacturing science problem on a ladle (read)."
_REYNOLDS_SOURCE = "Reynolds number; below 2000 laminar, above 4000 turbulent: course sheet (read)."


def reynolds(
    speed: float, diameter: float, density: float = 6900.0, viscosity: float = VISCOSITY
) -> float:
    """Return the Reynolds number; speed in mm/s, diameter in mm, kg/m3 and Pa s.

    References: manufacturing science problem (read), about 68 000 in a 25 mm gate.

    >>> round(reynolds(1715.5, 25.231, 7800, 0.00496), -2)
    68100.0
    """
    within("viscosity", viscosity, "Pa s", above=True)
    return density * speed / 1000 * diameter / 1000 / viscosity


def discharge(
    head: float, diameter: float, length: float, bends: float, density: float, viscosity: float
) -> float:
    """Return what friction leaves of the lossless speed, from 0 to 1.

    Head, gate diameter and length in mm; ``bends`` counts right angles. The friction depends on
    the speed it leaves, so it is worked until it stands still.

    >>> round(discharge(150, 25.23, 120, 1, 7800, 0.00496), 3)
    0.692
    """
    free = math.sqrt(2 * GRAVITY * 1000 * head)
    share = 1.0
    for _ in range(20):
        friction = 0.0791 * reynolds(free * share, diameter, density, viscosity) ** -0.25
        turns = 4 * friction * (length / diameter + BEND * bends)
        share = 1 / math.sqrt(1 + ENTRANCE + turns)
    return share


def filling_time(
    area: float, height: float, above: float, gate: float, head: float, coefficient: float = 1.0
) -> float:
    """Return the time in s to fill a mould of even section.

    ``area`` of the mould and ``gate`` in mm2; ``height``, the part of it ``above`` the gate and
    ``head`` over the gate in mm. Below the gate the head is whole; above it, it dwindles.

    References: manufacturing science problem (read), 21.86 s from the top, 43.72 s from below.

    >>> round(filling_time(125000, 150, 0, 500, 150), 2)
    21.86
    >>> round(filling_time(125000, 150, 150, 500, 150), 2)
    43.73
    """
    for name, value in (("area", area), ("height", height), ("gate", gate), ("head", head)):
        within(name, value, "", above=True)
    within("height above the gate", above, "mm", 0, height)
    if above > head:
        raise OutOfRange(f"head: {figure(head)} mm never fills {figure(above)} mm above the gate.")
    scale = area / gate / coefficient / math.sqrt(2 * GRAVITY * 1000)
    below = (height - above) / math.sqrt(head)
    return scale * (below + 2 * (math.sqrt(head) - math.sqrt(head - above)))


def nozzle_rate(
    depth: float, diameter: float, coefficient: float = 0.96, density: float = 6900.0
) -> float:
    """Return the flow in kg/s from a bottom nozzle; depth of metal and nozzle in mm.

    References: manufacturing science problem (read), 55.56 kg/s.

    >>> round(nozzle_rate(1200, 75, 0.96, 2700), 2)
    55.55
    """
    within("depth", depth, "mm")
    speed = coefficient * math.sqrt(2 * GRAVITY * depth / 1000)
    return density * speed * math.pi / 4 * (diameter / 1000) ** 2


def emptying_time(depth: float, ladle: float, diameter: float, coefficient: float = 0.96) -> float:
    """Return the time in s to empty a straight ladle through its nozzle; sizes in mm.

    References: manufacturing science problem (read), 91.60 s.

    >>> round(emptying_time(1200, 1000, 75, 0.96), 2)
    91.61
    """
    within("nozzle", diameter, "mm", 0, ladle, above=True)
    return (ladle / diameter) ** 2 / coefficient * math.sqrt(2 * depth / 1000 / GRAVITY)


def _work_reynolds(speed: float, diameter: float, density: float, viscosity: float) -> Worked:
    value = reynolds(speed, diameter, density, viscosity)
    lines = steps(
        "Re = density x speed x diameter / viscosity",
        f"{figure(density)} x {figure(speed / 1000)} x {figure(diameter / 1000)}"
        f" / {figure(viscosity)}",
        value,
        "",
    )
    warnings = ("turbulent, as metal in gates always is",) if value > 4000 else ()
    return Worked(value, "", lines, _REYNOLDS_SOURCE, warnings)


def _work_discharge(
    head: float, diameter: float, length: float, bends: float, density: float, viscosity: float
) -> Worked:
    value = discharge(head, diameter, length, bends, density, viscosity)
    free = math.sqrt(2 * GRAVITY * 1000 * head)
    working = (
        "C = 1 / (1 + 0.45 + 4 f (length / diameter + 25 x bends))^0.5, f = 0.0791 Re^-0.25",
        f"Re = {figure(reynolds(free * value, diameter, density, viscosity))} "
        f"at {figure(free * value)} mm/s",
        f"= {figure(value)}",
    )
    return Worked(value, "", working, _FRICTION_SOURCE)


def _work_filling(
    area: float, height: float, above: float, gate: float, head: float, coefficient: float
) -> Worked:
    value = filling_time(area, height, above, gate, head, coefficient)
    working = (
        "time = area / (gate x C x (2g)^0.5) x (below / head^0.5 + 2 (head^0.5 - (head - above)"
        "^0.5))",
        f"= {figure(area)} / ({figure(gate)} x {figure(coefficient)} x "
        f"{figure(math.sqrt(2 * GRAVITY * 1000))}) x ({figure(height - above)} / "
        f"{figure(math.sqrt(head))} + 2 x ({figure(math.sqrt(head))} - "
        f"{figure(math.sqrt(head - above))}))",
        f"= {figure(value)} s",
    )
    warnings = []
    if coefficient == 1:
        warnings.append("without friction: a lower bound (a real gate took 1.45 times as long)")
    if above > 0.9 * head:
        warnings.append("the head is all but used up at the end: raise the basin")
    return Worked(value, "s", working, _FILL_SOURCE, (*warnings, MOLTEN))


def _work_rate(depth: float, diameter: float, coefficient: float, density: float) -> Worked:
    value = nozzle_rate(depth, diameter, coefficient, density)
    lines = steps(
        "flow = density x C x (2 x g x depth)^0.5 x area of the nozzle",
        f"{figure(density)} x {figure(coefficient)} x "
        f"{figure(math.sqrt(2 * GRAVITY * depth / 1000))}"
        f" x {figure(math.pi / 4 * (diameter / 1000) ** 2)}",
        value,
        "kg/s",
    )
    return Worked(value, "kg/s", lines, _NOZZLE_SOURCE, (MOLTEN,))


def _work_emptying(depth: float, ladle: float, diameter: float, coefficient: float) -> Worked:
    value = emptying_time(depth, ladle, diameter, coefficient)
    lines = steps(
        "time = (ladle / nozzle)^2 / C x (2 x depth / g)^0.5",
        f"({figure(ladle)} / {figure(diameter)})^2 / {figure(coefficient)}"
        f" x (2 x {figure(depth / 1000)} / {figure(GRAVITY)})^0.5",
        value,
        "s",
    )
    return Worked(value, "s", lines, _NOZZLE_SOURCE, (MOLTEN,))


_VISCOSITY = Input("viscosity", "viscosity of the metal", "Pa s", 0.0005, 0.02, default=VISCOSITY)
_DEPTH = Input("depth", "depth of metal in the ladle", "mm", 1, 5000)
_NOZZLE = Input("diameter", "diameter of the nozzle", "mm", 5, 200)
_FREE = Input("coefficient", "what friction leaves of the flow", "", 0.3, 1, default=1)
_WIDE = Input("coefficient", "what friction leaves of the flow", "", 0.3, 1, default=0.96)
CALCULATIONS = (
    Calculation(
        "reynolds",
        "Reynolds number in a gate",
        (
            Input("speed", "speed of the metal", "mm/s", 0, 10000),
            Input("diameter", "diameter of the gate", "mm", 1, 300),
            DENSITY,
            _VISCOSITY,
        ),
        "",
        _REYNOLDS_SOURCE,
        _work_reynolds,
    ),
    Calculation(
        "gate-coefficient",
        "What friction leaves of the flow",
        (
            HEAD,
            Input("diameter", "diameter of the gate", "mm", 3, 300),
            Input("length", "length of the gate", "mm", 0, 2000),
            Input("bends", "right-angled bends", "", 0, 10, default=1),
            DENSITY,
            _VISCOSITY,
        ),
        "",
        _FRICTION_SOURCE,
        _work_discharge,
    ),
    Calculation(
        "mould-filling-time",
        "Time to fill a mould",
        (
            Input("area", "area of the mould, flat", "mm2", 10, 1e8),
            HEIGHT,
            ABOVE,
            Input("gate", "area of all gates together", "mm2", 5, 1e5),
            HEAD,
            _FREE,
        ),
        "s",
        _FILL_SOURCE,
        _work_filling,
    ),
    Calculation(
        "nozzle-rate",
        "Flow from a bottom nozzle",
        (_DEPTH, _NOZZLE, _WIDE, DENSITY),
        "kg/s",
        _NOZZLE_SOURCE,
        _work_rate,
    ),
    Calculation(
        "ladle-emptying-time",
        "Time to empty a bottom-pour ladle",
        (_DEPTH, Input("ladle", "inside diameter of the ladle", "mm", 50, 5000), _NOZZLE, _WIDE),
        "s",
        _NOZZLE_SOURCE,
        _work_emptying,
    ),
)
