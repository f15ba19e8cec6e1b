"""Feeders (risers): large enough to freeze last, and to have enough to give."""

from __future__ import annotations

import math
from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.freezing import MODULUS
from diagnose.shop.series import within

FREEZES_LATER: Final = 1.2
"""Modulus of a feeder over that of the casting; the common textbook factor."""

GIVES_UP: Final = 100 / 3
"""Share of a plain feeder that reaches the casting, %; the rule of three times the shrinkage."""

_MODULUS_SOURCE = (
    "Feeder freezes last: modulus 1.2 times that of the casting; worked examples (read)."
)
_VOLUME_SOURCE = "Feeder holds three times the shrinkage: riser-design questions (read)."
_DISTANCE_SOURCE = "4.5 x section for a steel plate with an end, from memory; for grey iron none."
_MARGIN_SOURCE = "Freezing ratio (A/V of casting) / (A/V of feeder): formula page (read)."


def diameter_share(slenderness: float = 1.0, cooling_ends: int = 2) -> float:
    """Return modulus over diameter of a cylinder; ``slenderness`` is its height over diameter.

    ``cooling_ends``: 2 for a side feeder, 1 for a top feeder that sits on the casting.

    >>> round(1 / diameter_share(1, 2), 9), round(1 / diameter_share(1, 1), 9)
    (6.0, 5.0)
    """
    within("slenderness", slenderness, "", above=True)
    return slenderness / (4 * slenderness + cooling_ends)


def feeder_by_modulus(
    modulus: float,
    factor: float = FREEZES_LATER,
    slenderness: float = 1.0,
    cooling_ends: int = 2,
) -> float:
    """Return the diameter in mm of a cylindrical feeder for a casting modulus in mm.

    References: Q&A example (read), 216 mm for a slab of modulus 30 mm, half as high as wide, base
    not cooling.

    >>> round(feeder_by_modulus(30, 1.2, 0.5, 1), 6)
    216.0
    """
    within("modulus", modulus, "mm", above=True)
    return factor * modulus / diameter_share(slenderness, cooling_ends)


def ball_by_modulus(modulus: float, factor: float = FREEZES_LATER) -> float:
    """Return the diameter in mm of a spherical feeder for a casting modulus in mm.

    >>> round(ball_by_modulus(7.6923, math.sqrt(1.2)), 1)
    50.6
    """
    within("modulus", modulus, "mm", above=True)
    return 6 * factor * modulus


def feeder_by_volume(
    volume: float, shrinkage: float, gives: float = GIVES_UP, slenderness: float = 1.0
) -> float:
    """Return the diameter in mm of a cylindrical feeder that can fill the shrinkage.

    ``volume`` of the casting in cm3, ``shrinkage`` and the share the feeder ``gives`` in %.

    References: riser-design question (read), radius 2.879 cm for 1000 cm3 at 5 %.

    >>> round(feeder_by_volume(1000, 5) / 2, 2)
    28.79
    """
    within("volume", volume, "cm3", above=True)
    within("shrinkage", shrinkage, "%", 0, 100)
    needed = volume * 1000 * shrinkage / gives
    return float((4 * needed / math.pi / slenderness) ** (1 / 3))


def _work_modulus(modulus: float, factor: float, slenderness: float, seat: str) -> Worked:
    ends = 2 if seat == "side" else 1
    value = feeder_by_modulus(modulus, factor, slenderness, ends)
    share = diameter_share(slenderness, ends)
    lines = steps(
        "diameter = factor x modulus of the casting / (modulus of the feeder to 1 mm of diameter)",
        f"{figure(factor)} x {figure(modulus)} / {figure(share)}",
        value,
        "mm",
    )
    return Worked(value, "mm", lines, _MODULUS_SOURCE, (_GREY, "check it by volume as well"))


def _work_ball(modulus: float, factor: float) -> Worked:
    value = ball_by_modulus(modulus, factor)
    lines = steps(
        "diameter = 6 x factor x modulus of the casting",
        f"6 x {figure(factor)} x {figure(modulus)}",
        value,
        "mm",
    )
    return Worked(value, "mm", lines, _MODULUS_SOURCE, (_GREY,))


def _work_volume(volume: float, shrinkage: float, gives: float, slenderness: float) -> Worked:
    value = feeder_by_volume(volume, shrinkage, gives, slenderness)
    needed = volume * shrinkage / gives
    working = (
        "feeder volume = casting volume x shrinkage / share it gives up",
        f"= {figure(volume)} x {figure(shrinkage)} / {figure(gives)} = {figure(needed)} cm3",
        f"= {figure(value)} mm across, {figure(value * slenderness)} mm high",
    )
    return Worked(value, "mm", working, _VOLUME_SOURCE, ("the modulus mostly asks for more",))


def _work_margin(modulus: float, feeder: float) -> Worked:
    value = feeder / modulus
    lines = steps(
        "margin = modulus of the feeder / modulus of the casting",
        f"{figure(feeder)} / {figure(modulus)}",
        value,
        "",
    )
    warnings: tuple[str, ...] = ()
    if value < 1:
        warnings = ("the feeder freezes first and draws on the casting: worse than none",)
    elif value < FREEZES_LATER:
        warnings = ("less than the usual 1.2",)
    return Worked(value, "", lines, _MARGIN_SOURCE, warnings)


def _work_distance(section: float, times: float) -> Worked:
    value = times * section
    lines = steps("distance = times x section", f"{figure(times)} x {figure(section)}", value, "mm")
    warnings = (
        "from memory, for steel; grey iron feeds itself farther in a hard mould, and no figure "
        "for it could be read",
    )
    return Worked(value, "mm", lines, _DISTANCE_SOURCE, warnings)


_GREY = (
    "grey iron often needs less: graphite makes up for much of it if the mould stands firm; see "
    "freezing-volume"
)
_FACTOR = Input(
    "factor", "how much the feeder's modulus exceeds the casting's", "", 1, 2, default=FREEZES_LATER
)
_SLENDERNESS = Input("slenderness", "height of the feeder over its diameter", "", 0.3, 3, default=1)
CALCULATIONS = (
    Calculation(
        "feeder-by-modulus",
        "Feeder that freezes last",
        (
            MODULUS,
            _FACTOR,
            _SLENDERNESS,
            Input(
                "seat",
                "beside the casting or on top of it",
                "",
                choices=("side", "top"),
                default="side",
            ),
        ),
        "mm",
        _MODULUS_SOURCE,
        _work_modulus,
    ),
    Calculation(
        "ball-feeder",
        "Spherical feeder that freezes last",
        (MODULUS, _FACTOR),
        "mm",
        _MODULUS_SOURCE,
        _work_ball,
    ),
    Calculation(
        "feeder-by-volume",
        "Feeder that holds enough",
        (
            Input("volume", "volume of the casting", "cm3", 0.1, 1e7),
            Input("shrinkage", "shrinkage to be fed", "%", 0.1, 15),
            Input(
                "gives",
                "share of the feeder that reaches the casting",
                "%",
                5,
                95,
                default=GIVES_UP,
            ),
            _SLENDERNESS,
        ),
        "mm",
        _VOLUME_SOURCE,
        _work_volume,
    ),
    Calculation(
        "feeder-margin",
        "Feeder beside casting",
        (MODULUS, Input("feeder", "modulus of the feeder", "mm", 0.3, 1000)),
        "",
        _MARGIN_SOURCE,
        _work_margin,
    ),
    Calculation(
        "feeding-distance",
        "How far a feeder reaches",
        (
            Input("section", "thickness of the section", "mm", 3, 300),
            Input("times", "distance in sections", "", 0.5, 12, default=4.5),
        ),
        "mm",
        _DISTANCE_SOURCE,
        _work_distance,
    ),
)
