"""Weights on the pouring floor: what a ladle holds, the moulds it fills, and the yield."""

from __future__ import annotations

import math
from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps
from diagnose.shop.metal import DENSITY, MOLTEN
from diagnose.shop.series import within

ONE_MAN: Final = 23.0
"""Most iron in kg for a hand ladle carried by one man: 50 lb in an old treatise (read)."""

TWO_MEN: Final = 160.0
"""Most iron in kg for a bull ladle on a double shank: 350 lb in the same treatise (read)."""

_HOLDS_SOURCE = (
    "Volume of a tapered vessel x density. Hand ladles hold up to 50 lb, bull ladles 75 to 350 lb: "
    "Foundry practice, a treatise on molding and casting (read in a caption)."
)
_FILLS_SOURCE = "Whole moulds in what the ladle can pour."


def ladle_holds(top: float, bottom: float, depth: float, freeboard: float, density: float) -> float:
    """Return the weight in kg that a tapered ladle holds up to ``freeboard`` below its lip.

    Inside diameters and heights in mm, over the lining; density in kg/m3.

    >>> round(ladle_holds(165, 150, 175, 25, 6900), 1)
    19.9
    """
    for name, size in (("top", top), ("bottom", bottom), ("depth", depth)):
        within(name, size, "mm", above=True)
    filled = depth - freeboard
    if not 0 < filled <= depth:
        raise OutOfRange(f"freeboard: {figure(freeboard)} mm leaves no depth of {figure(depth)}.")
    level = bottom + (top - bottom) * filled / depth
    volume = math.pi / 12 * filled * (level**2 + level * bottom + bottom**2)
    return volume * density / 1e9


def moulds_filled(metal: float, heel: float, mould: float) -> int:
    """Return how many moulds of ``mould`` kg poured weight a ladle of ``metal`` kg fills.

    ``heel`` in kg stays behind or is pigged. Raises OutOfRange when the heel takes all.

    >>> moulds_filled(23, 1.5, 4.2)
    5
    """
    within("metal", metal, "kg", above=True)
    within("mould", mould, "kg", above=True)
    if heel >= metal:
        raise OutOfRange(
            f"heel: {figure(heel)} kg is all of the {figure(metal)} kg; right would be less."
        )
    return math.floor((metal - heel) / mould + 1e-9)


def carried_by(weight: float) -> str:
    """Return who carries such a ladle of iron, by an old treatise.

    >>> carried_by(20), carried_by(60), carried_by(400)
    ('hand ladle, one man', 'bull ladle, two men or more', 'crane ladle')
    """
    if weight <= ONE_MAN:
        return "hand ladle, one man"
    return "bull ladle, two men or more" if weight <= TWO_MEN else "crane ladle"


def _work_holds(
    top: float, bottom: float, depth: float, freeboard: float, density: float
) -> Worked:
    value = ladle_holds(top, bottom, depth, freeboard, density)
    filled = depth - freeboard
    level = bottom + (top - bottom) * filled / depth
    lines = steps(
        "weight = pi/12 x depth of iron x (a^2 + a x b + b^2) x density",
        f"pi/12 x {figure(filled)} x ({figure(level)}^2 + {figure(level)} x {figure(bottom)}"
        f" + {figure(bottom)}^2) mm3 x {figure(density)} kg/m3",
        value,
        "kg",
    )
    warnings = (
        f"as iron goes, a {carried_by(value)}; the ladle itself comes on top, and what a man may "
        "carry is for the local rules",
        MOLTEN,
    )
    return Worked(value, "kg", lines, _HOLDS_SOURCE, warnings)


def _work_fills(metal: float, heel: float, mould: float) -> Worked:
    value = moulds_filled(metal, heel, mould)
    left = metal - value * mould
    lines = steps(
        "moulds = whole part of (metal - heel) / poured weight",
        f"({figure(metal)} - {figure(heel)}) / {figure(mould)}",
        value,
        "moulds",
    )
    warnings = [f"{figure(left)} kg stays: pig it into a dry mould", MOLTEN]
    if value == 0:
        warnings.insert(0, "not one mould: never fill a mould with a second ladle after a stop")
    elif value > 3:
        warnings.insert(0, "the last moulds get the coldest iron: pour the thinnest first")
    return Worked(value, "moulds", lines, _FILLS_SOURCE, tuple(warnings))


def _work_yield(casting: float, poured: float) -> Worked:
    if casting > poured:
        raise OutOfRange(
            f"casting: {figure(casting)} kg is more than the {figure(poured)} kg poured."
        )
    value = casting / poured * 100
    lines = steps(
        "yield = good castings / all that was poured",
        f"{figure(casting)} / {figure(poured)} x 100",
        value,
        "%",
    )
    return Worked(value, "%", lines, "Ratio of weights.")


CALCULATIONS = (
    Calculation(
        "ladle-holds",
        "Weight of iron a ladle holds",
        (
            Input("top", "inside diameter at the lip", "mm", 50, 3000),
            Input("bottom", "inside diameter at the bottom", "mm", 50, 3000),
            Input("depth", "inside depth", "mm", 50, 3000),
            Input("freeboard", "height left free below the lip", "mm", 0, 500, default=25),
            DENSITY,
        ),
        "kg",
        _HOLDS_SOURCE,
        _work_holds,
    ),
    Calculation(
        "moulds-filled",
        "Moulds a ladle fills",
        (
            Input("metal", "iron in the ladle", "kg", 1, 50000),
            Input("heel", "iron that is not poured", "kg", 0, 5000, default=1),
            Input(
                "mould", "poured weight of one mould, gates and feeders with it", "kg", 0.05, 50000
            ),
        ),
        "moulds",
        _FILLS_SOURCE,
        _work_fills,
    ),
    Calculation(
        "casting-yield",
        "Yield of a mould",
        (
            Input("casting", "castings of one mould, fettled", "kg", 0.01, 50000),
            Input("poured", "all that was poured into it", "kg", 0.01, 50000),
        ),
        "%",
        "Ratio of weights.",
        _work_yield,
    ),
)
