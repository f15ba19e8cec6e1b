"""Parts of a wall: stems, necks, gates, radii and chills by the wall that they stand in."""

from __future__ import annotations

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps

_SOURCE = "A share of the wall; the share is the shop's, or the action's that asks for it."


def _work_part(wall: float, share: float) -> Worked:
    value = wall * share
    lines = steps("size = wall x share", f"{figure(wall)} x {figure(share)}", value, "mm")
    return Worked(value, "mm", lines, _SOURCE)


CALCULATIONS = (
    Calculation(
        "part-of-wall",
        "Size as a part of the wall",
        (
            Input("wall", "wall that it stands in", "mm", 0.5, 1000),
            Input("share", "part of it", "", 0.01, 5),
        ),
        "mm",
        _SOURCE,
        _work_part,
    ),
)
