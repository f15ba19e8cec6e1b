"""Additions to the ladle: how much, what they bring in, and how inoculation fades."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.metal import MOLTEN
from diagnose.shop.series import Reading, within

HALF_LIFE: Final = 6.5
"""Minutes in which half of the effect is gone; 5 to 8 from memory, no figure could be read."""

_DOSE_SOURCE = (
    "About 0.2 % for most grey irons: supplier's sheet 4 (read); 3 to 10 kg/t: inoculant maker's "
    "page (read)."
)
_BRINGS_SOURCE = "Mass balance: addition x content x recovery."
_FADE_SOURCE = (
    "That all inoculants fade from the first moment: booklet on inoculation (read). Half-life of "
    "5 to 8 minutes and the shape of the curve: from memory."
)


def addition_weight(metal: float, addition: float) -> float:
    """Return the addition in g for ``metal`` kg at ``addition`` %.

    >>> round(addition_weight(23, 0.2))
    46
    """
    within("metal", metal, "kg", above=True)
    return metal * addition * 10


def brought_in(addition: Reading, content: float, recovery: float = 100.0) -> Reading:
    """Return what an addition in % brings of an element in %, at ``content`` and ``recovery`` %.

    >>> round(brought_in(0.2, 75), 3), round(brought_in(0.3, 1.5), 4)
    (0.15, 0.0045)
    """
    within("addition", addition, "%", 0, 100)
    return addition * content * recovery / 1e4


def effect_left(minutes: Reading, half_life: float = HALF_LIFE) -> Reading:
    """Return the share in % of the inoculation that is left after ``minutes``.

    From memory: halved every ``half_life`` minutes. No source gave a figure.

    >>> effect_left(0.0), effect_left(6.5)
    (100.0, 50.0)
    """
    within("minutes", minutes, "min")
    left: Reading = 100 * 0.5 ** (minutes / half_life)
    return left


def _work_weight(metal: float, addition: float) -> Worked:
    value = addition_weight(metal, addition)
    lines = steps(
        "weight = metal x addition", f"{figure(metal)} kg x {figure(addition)} %", value, "g"
    )
    warnings = ["into the stream at a quarter to three quarters full, never on the bottom"]
    warnings.append(
        "grain 0.5 to 3 mm for ladles up to 300 kg, 1 to 6 mm above (supplier's sheet, read); "
        "dry and warm, damp additions spit"
    )
    return Worked(value, "g", lines, _DOSE_SOURCE, (*warnings, MOLTEN))


def _work_brings(addition: float, content: float, recovery: float) -> Worked:
    value = brought_in(addition, content, recovery)
    lines = steps(
        "brought in = addition x content x recovery",
        f"{figure(addition)} % x {figure(content)} % x {figure(recovery)} %",
        value,
        "%",
    )
    warnings = (
        "silicon so brought raises the carbon equivalent by a third of it; for aluminium, 0.005 % "
        "is the lowest published limit against pinholes",
    )
    return Worked(value, "%", lines, _BRINGS_SOURCE, warnings)


def _work_fade(minutes: float, half_life: float) -> Worked:
    value = effect_left(minutes, half_life)
    lines = steps(
        "left = 100 x 0.5^(minutes / half-life)",
        f"100 x 0.5^({figure(minutes)} / {figure(half_life)})",
        value,
        "%",
    )
    warnings: tuple[str, ...] = ("half-life from memory: prove it with chill wedges by the clock",)
    if minutes > 10:
        warnings += ("pour no thin castings from this ladle: pig it, or inoculate again",)
    return Worked(value, "%", lines, _FADE_SOURCE, warnings)


CALCULATIONS = (
    Calculation(
        "inoculant-weight",
        "Inoculant for a ladle",
        (
            Input("metal", "metal in the ladle", "kg", 1, 20000),
            Input("addition", "addition", "%", 0.02, 2, default=0.2),
        ),
        "g",
        _DOSE_SOURCE,
        _work_weight,
    ),
    Calculation(
        "addition-brings",
        "What an addition brings of an element",
        (
            Input("addition", "addition", "%", 0, 5),
            Input("content", "content of the element in the addition", "%", 0, 100),
            Input("recovery", "share that stays in the iron", "%", 0, 100, default=100),
        ),
        "%",
        _BRINGS_SOURCE,
        _work_brings,
    ),
    Calculation(
        "inoculant-fade",
        "Inoculation left after waiting",
        (
            Input("minutes", "time since the addition", "min", 0, 60),
            Input("half_life", "time in which half of it is gone", "min", 2, 20, default=HALF_LIFE),
        ),
        "%",
        _FADE_SOURCE,
        _work_fade,
    ),
)
