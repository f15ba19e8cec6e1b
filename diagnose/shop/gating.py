"""Gates: head, choke, ratio, and the speed of the metal in them."""

from __future__ import annotations

import math
from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps
from diagnose.shop.metal import DENSITY
from diagnose.shop.physics import GRAVITY
from diagnose.shop.series import within

CALM: Final = 500.0
"""Fastest metal front in mm/s that does not break its skin; to 1000 in sections of a few mm."""

_SHEET: Final = "Useful equations, gating sheet (read): "
_HEAD_SOURCE = _SHEET + "h for a top gate, h - p^2/2c at the parting, h - c/2 for a bottom gate."
CHOKE_SOURCE = _SHEET + "choke = W / (density x t x C x (2gH)^0.5)."
_RATIO_SOURCE = (
    "Gates no larger than the sprue: pressurised; larger: unpressurised. Course sheet and trade "
    "lexicon (read). One page has it the other way round: not used."
)
_SPEED_SOURCE = (
    "Flow / area. Front below 0.5 m/s, to 1 m/s in sections of a few mm: foundry page on metal "
    "fronts (read)."
)


def effective_head(head: float, height: float, above: float) -> float:
    """Return the mean head in mm on the choke while the mould fills.

    ``head`` from the choke to the level in the basin, ``height`` of the casting, ``above``: how
    much of it lies above the gate, all in mm. Nothing above is a top gate, all of it a bottom
    gate. Raises OutOfRange when the casting stands higher than the metal can reach.

    References: gating sheet (read).

    >>> [effective_head(150, 100, above) for above in (0, 50, 100)]
    [150.0, 137.5, 100.0]
    """
    within("head", head, "mm", above=True)
    within("height", height, "mm", above=True)
    within("height above the gate", above, "mm", 0, height)
    if above > head:
        raise OutOfRange(
            f"head: {figure(head)} mm does not lift the metal {figure(above)} mm above the gate; "
            f"right would be more than {figure(above)} mm."
        )
    return head - above**2 / (2 * height)


def choke_area(
    weight: float, time: float, head: float, coefficient: float = 0.85, density: float = 6900.0
) -> float:
    """Return the choke in mm2 that pours ``weight`` kg in ``time`` s under ``head`` mm.

    ``coefficient`` from 0 to 1 takes the losses; density in kg/m3. References: gating sheet (read).

    >>> round(choke_area(20, 7.63, 150))
    261
    """
    for name, value in (("weight", weight), ("time", time), ("head", head)):
        within(name, value, "", above=True)
    speed = coefficient * math.sqrt(2 * GRAVITY * head / 1000)
    return weight / (density * time * speed) * 1e6


def gate_ratio(sprue: float, gates: float) -> float:
    """Return the area of all gates together over that of the sprue; any one unit.

    >>> gate_ratio(1, 3 * 1), gate_ratio(2, 1)
    (3.0, 0.5)
    """
    within("sprue", sprue, "mm2", above=True)
    return gates / sprue


def pressurised(ratio: float) -> bool:
    """Return whether gates with this ratio to the sprue keep the runner full.

    >>> pressurised(0.5), pressurised(1.0), pressurised(2.0)
    (True, True, False)
    """
    return ratio <= 1


def _work_head(head: float, height: float, above: float) -> Worked:
    value = effective_head(head, height, above)
    lines = steps(
        "effective head = head - above^2 / (2 x height)",
        f"{figure(head)} - {figure(above)}^2 / (2 x {figure(height)})",
        value,
        "mm",
    )
    warnings: tuple[str, ...] = ()
    if above > head / 2:
        warnings = (
            "the gate drowns deep: this mean head makes the mould fill too soon on paper; "
            "use mould-filling-time",
        )
    return Worked(value, "mm", lines, _HEAD_SOURCE, warnings)


def _work_choke(
    weight: float, time: float, head: float, coefficient: float, density: float
) -> Worked:
    value = choke_area(weight, time, head, coefficient, density)
    lines = steps(
        "choke = weight / (density x time x coefficient x (2 x g x head)^0.5)",
        f"{figure(weight)} / ({figure(density)} x {figure(time)} x {figure(coefficient)}"
        f" x (2 x {figure(GRAVITY)} x {figure(head / 1000)})^0.5)",
        value,
        "mm2",
    )
    warnings = ("the coefficient is 0.7 to 0.9 (common practice, no source)",)
    return Worked(value, "mm2", lines, CHOKE_SOURCE, warnings)


def _work_ratio(sprue: float, runner: float, gate: float, number: float) -> Worked:
    gates = gate * number
    value = gate_ratio(sprue, gates)
    kind = "pressurised" if pressurised(value) else "unpressurised"
    working = (
        "ratio = all gates together / sprue",
        f"= {figure(gate)} x {figure(number)} / {figure(sprue)}",
        f"= {figure(value)} (1 : {figure(runner / sprue)} : {figure(value)}, {kind})",
    )
    warnings: tuple[str, ...] = ()
    if not pressurised(value):
        warnings = (
            "grey iron is usually gated pressurised (read): an open system does not run full at "
            "once, and slag passes",
        )
    elif value < 0.5:
        warnings = ("the gates squirt: washed sand, and metal that splashes",)
    return Worked(value, "", working, _RATIO_SOURCE, warnings)


def _work_speed(weight: float, time: float, area: float, density: float) -> Worked:
    value = weight / density / time / area * 1e9
    lines = steps(
        "speed = weight / (density x time x area of all gates)",
        f"{figure(weight)} / ({figure(density)} x {figure(time)} x {figure(area)} mm2)",
        value,
        "mm/s",
    )
    warnings: tuple[str, ...] = ()
    if value > 2 * CALM:
        warnings = ("above 1 m/s: splashing, trapped air and washed sand",)
    elif value > CALM:
        warnings = ("above 0.5 m/s: only for sections of a few mm",)
    return Worked(value, "mm/s", lines, _SPEED_SOURCE, warnings)


HEAD: Final = Input("head", "from the choke up to the metal in the basin", "mm", 5, 3000)
HEIGHT: Final = Input("height", "height of the casting", "mm", 1, 3000)
ABOVE: Final = Input(
    "above", "height of the casting above the gate (0: top gate, all: bottom gate)", "mm", 0, 3000
)
_POURED = Input("weight", "weight poured through the choke", "kg", 0.05, 20000)
_TIME = Input("time", "pouring time", "s", 0.5, 600)
CALCULATIONS = (
    Calculation(
        "effective-head",
        "Mean head while the mould fills",
        (HEAD, HEIGHT, ABOVE),
        "mm",
        _HEAD_SOURCE,
        _work_head,
    ),
    Calculation(
        "choke-area",
        "Area of the choke",
        (
            _POURED,
            _TIME,
            Input("head", "effective head", "mm", 5, 3000),
            Input("coefficient", "what friction leaves of the flow", "", 0.3, 1, default=0.85),
            DENSITY,
        ),
        "mm2",
        CHOKE_SOURCE,
        _work_choke,
    ),
    Calculation(
        "gating-ratio",
        "Gating ratio",
        (
            Input("sprue", "area of the sprue's foot", "mm2", 0.1, 1e5),
            Input("runner", "area of the runners together", "mm2", 0.1, 1e5),
            Input("gate", "area of one gate", "mm2", 0.1, 1e5),
            Input("number", "number of gates", "", 1, 50, default=1),
        ),
        "",
        _RATIO_SOURCE,
        _work_ratio,
    ),
    Calculation(
        "gate-speed",
        "Speed of metal in the gates",
        (
            _POURED,
            _TIME,
            Input("area", "area of all gates together", "mm2", 5, 1e5),
            DENSITY,
        ),
        "mm/s",
        _SPEED_SOURCE,
        _work_speed,
    ),
)
