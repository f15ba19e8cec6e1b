"""Misrun and cold shut: fluidity, and the thinnest section that will run."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps
from diagnose.shop.carbon import carbon_equivalent
from diagnose.shop.elements import CARBON, PHOSPHORUS, SILICON, or_none
from diagnose.shop.metal import LATENT_HEAT, LIQUID, SPECIFIC_HEAT
from diagnose.shop.series import within

MINIMUM: Final[Mapping[tuple[str, str], tuple[float, float]]] = {
    ("grey", "green"): (4, 6),
    ("grey", "shell"): (3, 4),
    ("grey", "resin"): (6, 10),
    ("ductile", "green"): (5, 7),
    ("ductile", "shell"): (4, 5),
    ("ductile", "resin"): (7, 12),
}
"""Thinnest usual wall in mm, from and to, by iron and sand: a maker's guide (read)."""

SAND: Final = 1300.0
"""Heat effusivity of green sand, W s0.5/(m2 K); from memory."""

STOPS_AT: Final = 0.2
"""Share frozen at which the front of the metal stops; from memory."""

WARMTH: Final = 1150.0
"""How much hotter freezing iron is than the sand, K."""

_SPIRAL_SOURCE = (
    "Spiral in cm = 37.846 CF + 0.228 T - 389.6, CF = C + Si/4 + P/2: formula pages (read); the "
    "same in inches and degF from memory agrees."
)
_THIN_SOURCE = (
    "Heat balance: sand as a deep body draws the superheat and a fifth of the heat of freezing "
    "before the front has run its way; constants from memory."
)
_MINIMUM_SOURCE = "Maker's guide to wall thickness (read, commercial); 3 mm textbook from memory."


def spiral_length(carbon: float, silicon: float, phosphorus: float, temperature: float) -> float:
    """Return the length in cm that the iron runs in the fluidity spiral.

    Contents in %, temperature in degC; fitted near 1300 to 1450 degC. Below nought the rule is
    left.

    >>> round(spiral_length(3.4, 2.0, 0.0, 1371.1), 1)
    70.6
    """
    factor = carbon_equivalent(carbon, silicon, phosphorus, "classic")
    return 37.846 * factor + 0.228 * temperature - 389.6


def run_time(thickness: float, superheat: float) -> float:
    """Return the time in s that metal of ``thickness`` mm and ``superheat`` K keeps running.

    >>> round(run_time(4, 100), 2)
    1.13
    """
    within("thickness", thickness, "mm", above=True)
    within("superheat", superheat, "K")
    held = LIQUID * thickness / 1000 * (SPECIFIC_HEAT * superheat + STOPS_AT * LATENT_HEAT)
    return math.pi * (held / (4 * SAND * WARMTH)) ** 2


def thinnest(superheat: float, run: float, speed: float) -> float:
    """Return the thinnest section in mm that fills over ``run`` mm at ``speed`` mm/s.

    ``superheat`` in K at the gate. The inverse of ``run_time``.

    >>> round(thinnest(100, 300, 500), 1)
    2.9
    """
    within("run", run, "mm", above=True)
    within("speed", speed, "mm/s", above=True)
    drawn = 4 * SAND * WARMTH * math.sqrt(run / speed / math.pi)
    return drawn / (LIQUID * (SPECIFIC_HEAT * superheat + STOPS_AT * LATENT_HEAT)) * 1000


def _work_spiral(carbon: float, silicon: float, phosphorus: float, temperature: float) -> Worked:
    value = spiral_length(carbon, silicon, phosphorus, temperature)
    if value <= 0:
        raise OutOfRange(
            f"temperature: at {figure(temperature)} degC the rule gives no run at all; right would "
            "be an iron well above its liquidus."
        )
    factor = carbon_equivalent(carbon, silicon, phosphorus, "classic")
    lines = steps(
        "spiral = 37.846 x (C + Si/4 + P/2) + 0.228 x temperature - 389.6",
        f"37.846 x {figure(factor)} + 0.228 x {figure(temperature)} - 389.6",
        value,
        "cm",
    )
    warnings = (f"that is {figure(value / 2.54)} inches; compare with your own spiral or strip",)
    return Worked(value, "cm", lines, _SPIRAL_SOURCE, warnings)


def _work_thinnest(superheat: float, run: float, speed: float) -> Worked:
    value = thinnest(superheat, run, speed)
    lines = steps(
        "thickness = 4 x sand x warmth x (run / speed / pi)^0.5"
        " / (density x (heat of superheat + 0.2 x heat of freezing))",
        f"4 x {figure(SAND)} x {figure(WARMTH)} x ({figure(run / speed)} / pi)^0.5"
        f" / ({figure(LIQUID)} x {figure(SPECIFIC_HEAT * superheat + STOPS_AT * LATENT_HEAT)})",
        value,
        "mm",
    )
    warnings = ["constants from memory: compare one section with another, one heat with the next"]
    least, _ = MINIMUM["grey", "green"]
    if value < least:
        warnings.append(f"makers do not go below {figure(least)} mm in green sand (read)")
    return Worked(value, "mm", lines, _THIN_SOURCE, tuple(warnings))


def _work_minimum(iron: str, sand: str) -> Worked:
    value, most = MINIMUM[iron, sand]
    working = (
        f"look up the thinnest usual wall of {iron} iron in {sand} sand",
        f"{figure(value)} to {figure(most)} mm",
        f"= {figure(value)} mm at the best",
    )
    warnings = ("one maker's figures; small work with hot soft iron has been run at 3 mm (memory)",)
    return Worked(value, "mm", working, _MINIMUM_SOURCE, warnings)


def _work_wall(wall: float, iron: str, sand: str) -> Worked:
    least, most = MINIMUM[iron, sand]
    value = wall - least
    working = (
        "to spare = wall - thinnest usual wall",
        f"= {figure(wall)} - {figure(least)}",
        f"= {figure(value)} mm",
    )
    warnings: tuple[str, ...] = ()
    if wall < least:
        warnings = ("thinner than makers promise: misruns and cold shuts are to be expected",)
    elif wall < most:
        warnings = ("inside the span where it needs hot iron and a short run",)
    return Worked(value, "mm", working, _MINIMUM_SOURCE, warnings)


_IRON = Input("iron", "kind of iron", "", choices=("grey", "ductile"), default="grey")
_SAND = Input("sand", "kind of mould", "", choices=("green", "shell", "resin"))
CALCULATIONS = (
    Calculation(
        "fluidity",
        "Run of the fluidity spiral",
        (
            CARBON,
            SILICON,
            or_none(PHOSPHORUS),
            Input(
                "temperature",
                "pouring temperature",
                "degC",
                1200,
                1550,
                reading="pouring temperature",
            ),
        ),
        "cm",
        _SPIRAL_SOURCE,
        _work_spiral,
    ),
    Calculation(
        "thinnest-section",
        "Thinnest section that runs at this superheat",
        (
            Input("superheat", "superheat at the gate", "K", 0, 400),
            Input("run", "how far the metal must run", "mm", 10, 3000),
            Input("speed", "speed of the front", "mm/s", 50, 3000, default=500),
        ),
        "mm",
        _THIN_SOURCE,
        _work_thinnest,
    ),
    Calculation(
        "thinnest-wall", "Thinnest usual wall", (_IRON, _SAND), "mm", _MINIMUM_SOURCE, _work_minimum
    ),
    Calculation(
        "wall-to-spare",
        "Wall beside the thinnest usual one",
        (Input("wall", "wall of the casting", "mm", 0.5, 500), _IRON, _SAND),
        "mm",
        _MINIMUM_SOURCE,
        _work_wall,
    ),
)
