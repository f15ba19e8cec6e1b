"""Volume of grey iron from the pour to the solid: it shrinks, then graphite makes it grow."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure
from diagnose.shop.series import within

GREY: Final = 2.5
"""Growth of grey iron on freezing, % by volume: textbook table (read in an answer that quotes)."""

WHITE: Final = -4.75
"""Shrinkage of white iron on freezing, % by volume: middle of 4 to 5.5 in the same table."""

LIQUID_SHRINKAGE: Final = 1.5
"""Shrinkage of liquid iron for each 100 K of superheat, % by volume; from memory."""

_SOURCE = (
    "Textbook table of volume changes on freezing, grey iron +2.5 %, white iron -4 to -5.5 % (read "
    "in an answer that quotes it); liquid shrinkage 1.5 % to 100 K from memory; straight line "
    "between grey and white is our choice."
)


def freezing_volume(superheat: float, grey: float, liquid: float = LIQUID_SHRINKAGE) -> float:
    """Return the change of volume in % from the pour to the solid, growth above nil.

    ``superheat`` in K over the liquidus, ``grey`` the share in % that freezes grey.

    >>> freezing_volume(0, 100), freezing_volume(0, 0), freezing_volume(100, 100)
    (2.5, -4.75, 1.0)
    """
    within("superheat", superheat, "K")
    within("share that freezes grey", grey, "%", 0, 100)
    return grey / 100 * GREY + (1 - grey / 100) * WHITE - superheat / 100 * liquid


def swell(movement: float, thickness: float) -> float:
    """Return the growth of the cavity in % when both walls of a plate give way.

    ``movement`` of each wall and ``thickness`` of the plate in mm.

    >>> round(swell(0.3, 20), 6)
    3.0
    """
    within("movement", movement, "mm")
    within("thickness", thickness, "mm", above=True)
    return 200 * movement / thickness


def _work_volume(
    superheat: float, grey: float, liquid: float, movement: float, thickness: float
) -> Worked:
    iron = freezing_volume(superheat, grey, liquid)
    cavity = swell(movement, thickness)
    value = iron - cavity
    working = (
        "left over = growth on freezing - shrinkage while liquid - growth of the cavity",
        f"on freezing: {figure(grey)} % grey at +2.5 and the rest at -4.75:"
        f" {figure(iron + superheat / 100 * liquid)} %",
        f"while liquid: {figure(superheat)} K x {figure(liquid)} / 100 = "
        f"{figure(superheat / 100 * liquid)} %",
        f"cavity: 200 x {figure(movement)} mm / {figure(thickness)} mm = {figure(cavity)} %",
        f"= {figure(value)} %",
    )
    warnings = ["constants partly from memory: use it to compare, not to size a feeder"]
    if value < 0:
        warnings.append("short of metal: feed it, or expect shrinkage, above all in hot spots")
    if cavity > 1:
        warnings.append(
            "the mould gives way: look at ramming, clamps and weights first; green sand counts as "
            "yielding, and graphite presses with several hundred psi (guide on risering, read)"
        )
    return Worked(value, "%", working, _SOURCE, tuple(warnings))


CALCULATIONS = (
    Calculation(
        "freezing-volume",
        "Metal left over or short when grey iron freezes",
        (
            Input("superheat", "superheat of the iron in the mould", "K", 0, 400),
            Input("grey", "share that freezes grey", "%", 0, 100, default=100),
            Input(
                "liquid",
                "shrinkage of the liquid for each 100 K",
                "%",
                0.5,
                3,
                default=LIQUID_SHRINKAGE,
            ),
            Input("movement", "how far each wall of the mould gives way", "mm", 0, 5, default=0),
            Input("thickness", "thickness of the section", "mm", 2, 500, default=20),
        ),
        "%",
        _SOURCE,
        _work_volume,
    ),
)
