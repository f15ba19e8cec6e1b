"""The choke for a mould of known weight and wall: pouring time and area in one go."""

from __future__ import annotations

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.gating import CHOKE_SOURCE, choke_area
from diagnose.shop.pouring import CHANGEOVER, TIME_SOURCE, heavy_grey, light_grey


def choke_for(weight: float, section: float, head: float) -> tuple[float, float]:
    """Return the pouring time in s of a grey-iron mould, and the choke in mm2 that gives it.

    ``weight`` in kg with gates and feeders, ``section`` in mm, ``head`` (mean, from the choke up)
    in mm.

    >>> [round(x, 1) for x in choke_for(40.0, 10.0, 200.0)]
    [9.3, 371.2]
    """
    time = (light_grey if weight <= CHANGEOVER else heavy_grey)(weight, section)
    return time, choke_area(weight, time, head)


def _work(weight: float, section: float, head: float) -> Worked:
    time, value = choke_for(weight, section, head)
    lines = (
        f"pouring time by weight and section = {figure(time)} s",
        *steps(
            "choke = weight / (density x time x 0.85 x (2 x g x head)^0.5)",
            f"{figure(weight)} kg, {figure(time)} s, {figure(head)} mm",
            value,
            "mm2",
        ),
    )
    return Worked(value, "mm2", lines, f"{TIME_SOURCE} {CHOKE_SOURCE}")


CALCULATIONS = (
    Calculation(
        "choke-for-pour",
        "Choke for the weight and wall of a grey-iron mould",
        (
            Input("weight", "poured weight, gates and feeders with it", "kg", 0.1, 20000),
            Input("section", "mean section", "mm", 2, 200),
            Input("head", "mean head over the choke", "mm", 5, 3000),
        ),
        "mm2",
        f"{TIME_SOURCE} {CHOKE_SOURCE}",
        _work,
    ),
)
