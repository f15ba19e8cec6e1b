"""The elements of an iron as inputs, each with the range that an iron for castings can have."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Input

CARBON: Final = Input("carbon", "total carbon", "%", 1.5, 5, reading="carbon in the iron")
SILICON: Final = Input("silicon", "silicon", "%", 0.1, 4, reading="silicon in the iron")
MANGANESE: Final = Input("manganese", "manganese", "%", 0, 2, reading="manganese in the iron")
PHOSPHORUS: Final = Input("phosphorus", "phosphorus", "%", 0, 2, reading="phosphorus in the iron")
SULPHUR: Final = Input("sulphur", "sulphur", "%", 0, 0.5, reading="sulphur in the iron")
NICKEL: Final = Input("nickel", "nickel", "%", 0, 5, default=0)
CHROMIUM: Final = Input(
    "chromium", "chromium", "%", 0, 2, default=0, reading="chromium in the iron"
)
MOLYBDENUM: Final = Input("molybdenum", "molybdenum", "%", 0, 2, default=0)
TITANIUM: Final = Input(
    "titanium", "titanium", "%", 0, 0.5, default=0, reading="titanium in the iron"
)
ALUMINIUM: Final = Input("aluminium", "aluminium", "%", 0, 1)
NITROGEN: Final = Input("nitrogen", "nitrogen", "ppm", 0, 500, reading="nitrogen in the iron")


def or_none(element: Input) -> Input:
    """Return the same input, taken as nil when it is not given.

    >>> or_none(PHOSPHORUS).default
    0
    """
    return Input(
        element.name,
        f"{element.what}, nil if left out",
        element.unit,
        element.low,
        element.high,
        default=0,
        reading=element.reading,
    )
