"""How iron cools from tap to mould, and how much superheat is left.

First principles: the bare top radiates, and the lining soaks up heat like deep ground, fast at
first and then ever slower. The constants of iron and lining are from memory; the two published
rates for large ladles come out of them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps
from diagnose.shop.elements import CARBON, MANGANESE, PHOSPHORUS, SILICON, SULPHUR, or_none
from diagnose.shop.liquidus import LIQUIDUS_SOURCE, liquidus
from diagnose.shop.metal import LIQUID, MOLTEN, SPECIFIC_HEAT, STEFAN_BOLTZMANN
from diagnose.shop.physics import ICE_POINT
from diagnose.shop.series import within

EMISSIVITY: Final = 0.45
"""Share of black radiation from a bare iron top; from memory."""

SOAK: Final = 1400.0
"""Heat effusivity of a fireclay lining, W s0.5/(m2 K); from memory."""

COVERS: Final[Mapping[str, float]] = {"bare": 1.0, "slag": 0.5, "lid": 0.2}
"""Share of the bare radiation that gets away; from memory."""

SURROUNDINGS: Final = 20.0
"""Temperature the top radiates to, degC."""

_STEPS: Final = 60

LADLE_SOURCE = (
    "Energy balance: radiation (Stefan-Boltzmann) and soaking of the lining as a deep body; "
    "constants from memory. Published: about 2.5 K/min for a 1 t drum ladle, 2 K/min for 4 t "
    "(read in a text fragment, low authority); 10 to 30 K/min for small open ladles (memory)."
)


def temperature_after(
    start: float, minutes: float, metal: float, lining: float = 900.0, cover: str = "bare"
) -> float:
    """Return the temperature in degC of ``metal`` kg of iron after ``minutes`` in a ladle.

    ``start`` and ``lining`` (its hot face before the iron came) in degC; ``cover`` is bare, slag
    or lid. The iron is taken to stand as deep as it is wide. Raises OutOfRange for a start colder
    than the lining.

    >>> round(1400 - temperature_after(1400, 2, 20, 1000))
    61
    >>> round(1400 - temperature_after(1400, 6, 1000, 1100, "lid"))
    18
    """
    within("minutes", minutes, "min")
    within("metal", metal, "kg", above=True)
    if cover not in COVERS:
        raise OutOfRange(f"cover {cover!r} is not known; right would be {', '.join(COVERS)}.")
    if lining > start:
        raise OutOfRange(f"lining: {figure(lining)} degC is hotter than the iron.")
    wall, top = _surfaces(metal)
    soaking = 2 * SOAK * wall / math.sqrt(math.pi)
    shining = 2 * EMISSIVITY * COVERS[cover] * STEFAN_BOLTZMANN * top
    warm = metal * SPECIFIC_HEAT
    cold, around = lining + ICE_POINT, (SURROUNDINGS + ICE_POINT) ** 4

    def slope(root: float, kelvin: float) -> float:
        """Fall of temperature over the root of the time, in which the soak is smooth."""
        return -(soaking * (kelvin - cold) + shining * (kelvin**4 - around) * root) / warm

    return _integrate(slope, start + ICE_POINT, math.sqrt(minutes * 60)) - ICE_POINT


def _surfaces(metal: float) -> tuple[float, float]:
    """Return wetted wall with bottom, and top, in m2, of iron as deep as it is wide."""
    across = (4 * metal / LIQUID / math.pi) ** (1 / 3)
    top = math.pi / 4 * across**2
    return math.pi * across**2 + top, top


def _integrate(slope: Callable[[float, float], float], value: float, end: float) -> float:
    """Follow ``value`` from nought to ``end`` by the classic fourth-order step."""
    step = end / _STEPS
    for number in range(_STEPS):
        at = number * step
        first = slope(at, value)
        second = slope(at + step / 2, value + step / 2 * first)
        third = slope(at + step / 2, value + step / 2 * second)
        fourth = slope(at + step, value + step * third)
        value += step / 6 * (first + 2 * second + 2 * third + fourth)
    return value


def _work_mould(
    tapped: float,
    metal: float,
    minutes: float,
    lining: float,
    cover: str,
    transfers: float,
    stream: float,
) -> Worked:
    started = tapped - transfers * stream
    value = temperature_after(started, minutes, metal, lining, cover)
    working = (
        "at the mould = tapped - transfers x loss in each - loss in the ladle",
        f"loss in the ladle: {figure(metal)} kg, {figure(minutes)} min, {cover}, lining at "
        f"{figure(lining)} degC: {figure(started - value)} K",
        f"= {figure(tapped)} - {figure(transfers)} x {figure(stream)} - {figure(started - value)}",
        f"= {figure(value)} degC",
    )
    warnings = ["constants from memory: check once with a dip reading in your own ladle"]
    if lining < 500:
        warnings.append("a cold lining may be damp as well: iron on damp clay throws metal about")
    return Worked(value, "degC", working, LADLE_SOURCE, (*warnings, MOLTEN))


def _work_loss(metal: float, minutes: float, start: float, lining: float, cover: str) -> Worked:
    value = start - temperature_after(start, minutes, metal, lining, cover)
    wall, top = _surfaces(metal)
    working = (
        "loss = heat radiated by the top and soaked up by the lining / heat held by the iron",
        f"{figure(metal)} kg: wall and bottom {figure(wall)} m2, top {figure(top)} m2 ({cover})",
        f"= {figure(value)} K in {figure(minutes)} min",
    )
    return Worked(value, "K", working, LADLE_SOURCE, ("constants from memory", MOLTEN))


def _work_superheat(
    temperature: float,
    carbon: float,
    silicon: float,
    manganese: float,
    phosphorus: float,
    sulphur: float,
) -> Worked:
    begins = liquidus(carbon, silicon, manganese, phosphorus, sulphur)
    value = temperature - begins
    lines = steps(
        "superheat = temperature of the iron - liquidus",
        f"{figure(temperature)} - {figure(begins)}",
        value,
        "K",
    )
    warnings: tuple[str, ...] = ()
    if value <= 0:
        warnings = ("the iron is already freezing: pig it, do not pour",)
    elif value < 50:
        warnings = ("little is left for thin sections: expect misruns and cold shuts",)
    return Worked(value, "K", lines, LIQUIDUS_SOURCE, (*warnings, MOLTEN))


_MINUTES = Input(
    "minutes", "time in the ladle", "min", 0, 60, reading="time from tap to last mould"
)
_METAL = Input("metal", "iron in the ladle", "kg", 2, 10000)
LINING = Input(
    "lining", "hot face of the lining before the iron came", "degC", 20, 1300, default=900
)
COVER = Input("cover", "top of the iron", "", choices=tuple(COVERS), default="bare")
CALCULATIONS = (
    Calculation(
        "metal-at-mould",
        "Temperature of the iron at the mould",
        (
            Input("tapped", "temperature at the tap", "degC", 1250, 1600),
            _METAL,
            _MINUTES,
            LINING,
            COVER,
            Input("transfers", "times the iron was poured over", "", 0, 5, default=0),
            Input(
                "stream", "loss of the stream in each of them, from memory", "K", 0, 60, default=15
            ),
        ),
        "degC",
        LADLE_SOURCE,
        _work_mould,
    ),
    Calculation(
        "ladle-loss",
        "Temperature lost in a ladle",
        (
            _METAL,
            _MINUTES,
            Input(
                "start", "temperature in the ladle at the start", "degC", 1200, 1600, default=1400
            ),
            LINING,
            COVER,
        ),
        "K",
        LADLE_SOURCE,
        _work_loss,
    ),
    Calculation(
        "superheat",
        "Superheat left",
        (
            Input("temperature", "temperature of the iron", "degC", 1100, 1600),
            CARBON,
            SILICON,
            or_none(MANGANESE),
            or_none(PHOSPHORUS),
            or_none(SULPHUR),
        ),
        "K",
        LIQUIDUS_SOURCE,
        _work_superheat,
    ),
)
