"""The temperature at which an iron begins to freeze, and that of its eutectic."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps
from diagnose.shop.elements import (
    CARBON,
    CHROMIUM,
    MANGANESE,
    NICKEL,
    PHOSPHORUS,
    SILICON,
    SULPHUR,
    or_none,
)

START: Final = 1625.0
"""Constant of the liquidus rule, degC."""

FALL: Final[Mapping[str, float]] = {
    "carbon": 110.0,
    "silicon": 25.0,
    "manganese": -3.0,
    "phosphorus": 35.0,
    "sulphur": 71.0,
    "nickel": 2.0,
    "chromium": 7.0,
}
"""By how many degC 1 % of an element lowers the liquidus (below zero: raises it)."""

EUTECTICS: Final[Mapping[str, tuple[float, float]]] = {"grey": (1153.0, 6.7), "white": (1147, -12)}
"""Eutectic of the plain iron, degC, and what 1 % silicon does to it; from memory."""

MEASURED_BELOW: Final[Mapping[str, float]] = {"grey": 14.4, "white": 8.3}
"""By how much arrests were measured below the calculated eutectic, K, on average (read)."""

LIQUIDUS_SOURCE = (
    "Carbon equivalent by saturation and by liquidus, AFS 2020 (read): 1625 - 110 C - 25 Si + 3 Mn "
    "- 35 P - 71 S - 2 Ni - 7 Cr, up to the eutectic."
)
EUTECTIC_SOURCE = (
    "1153 + 6.7 Si (grey) and 1147 - 12 Si (white), from memory; measured arrests lie lower by "
    "14.4 and 8.3 K on average: Metals 2020, 10, 993 (abstract read)."
)


def liquidus(
    carbon: float,
    silicon: float,
    manganese: float = 0.0,
    phosphorus: float = 0.0,
    sulphur: float = 0.0,
    nickel: float = 0.0,
    chromium: float = 0.0,
) -> float:
    """Return the temperature in degC at which the iron begins to freeze, from contents in %.

    Holds below and at the eutectic. Also takes numpy arrays. References: carbon equivalent by
    saturation and by liquidus, AFS 2020 (read); divided by 110 it gives the liquidus carbon
    equivalent.

    >>> round(liquidus(3.30, 2.00, 0.60, 0.05, 0.08), 1)
    1206.4
    """
    return START - FALL["carbon"] * liquidus_equivalent(
        carbon, silicon, manganese, phosphorus, sulphur, nickel, chromium
    )


def liquidus_equivalent(
    carbon: float,
    silicon: float,
    manganese: float = 0.0,
    phosphorus: float = 0.0,
    sulphur: float = 0.0,
    nickel: float = 0.0,
    chromium: float = 0.0,
) -> float:
    """Return the carbon equivalent of the liquidus in %: all elements by what they do to it.

    >>> round(liquidus_equivalent(3.00, 1.50, 0.70, 0.10, 0.10), 2)
    3.42
    """
    contents = {
        "carbon": carbon,
        "silicon": silicon,
        "manganese": manganese,
        "phosphorus": phosphorus,
        "sulphur": sulphur,
        "nickel": nickel,
        "chromium": chromium,
    }
    fall = sum(FALL[element] * content for element, content in contents.items())
    return fall / FALL["carbon"]


def eutectic(silicon: float, freezing: str = "grey") -> float:
    """Return the calculated eutectic temperature in degC; ``freezing`` is grey or white.

    >>> eutectic(0.0, "grey"), eutectic(2.0, "white")
    (1153.0, 1123.0)
    """
    if freezing not in EUTECTICS:
        raise OutOfRange(f"freezing {freezing!r} is not known; right would be grey or white.")
    plain, by_silicon = EUTECTICS[freezing]
    return plain + by_silicon * silicon


def _work_liquidus(
    carbon: float,
    silicon: float,
    manganese: float,
    phosphorus: float,
    sulphur: float,
    nickel: float,
    chromium: float,
) -> Worked:
    analysis = (carbon, silicon, manganese, phosphorus, sulphur, nickel, chromium)
    value = liquidus(*analysis)
    numbers = "1625" + "".join(
        f" {'-' if FALL[element] > 0 else '+'} {figure(abs(FALL[element]))} x {figure(content)}"
        for element, content in zip(FALL, analysis, strict=True)
    )
    warnings = []
    if value < eutectic(silicon):
        warnings.append(
            "past the eutectic: the rule does not hold, graphite comes first; freezing begins "
            f"no lower than about {figure(eutectic(silicon))} degC"
        )
    formula = "liquidus = 1625 - 110 C - 25 Si + 3 Mn - 35 P - 71 S - 2 Ni - 7 Cr"
    return Worked(
        value, "degC", steps(formula, numbers, value, "degC"), LIQUIDUS_SOURCE, tuple(warnings)
    )


def _work_eutectic(silicon: float, freezing: str) -> Worked:
    value = eutectic(silicon, freezing)
    plain, by_silicon = EUTECTICS[freezing]
    below = figure(MEASURED_BELOW[freezing])
    return Worked(
        value,
        "degC",
        steps(
            f"{freezing} eutectic = {figure(plain)} {'+' if by_silicon > 0 else '-'} "
            f"{figure(abs(by_silicon))} x Si",
            f"{figure(plain)} + {figure(by_silicon)} x {figure(silicon)}",
            value,
            "degC",
        ),
        EUTECTIC_SOURCE,
        (f"measured arrests lie lower, on average by {below} K", "constants from memory"),
    )


_ALL = (
    CARBON,
    SILICON,
    or_none(MANGANESE),
    or_none(PHOSPHORUS),
    or_none(SULPHUR),
    NICKEL,
    CHROMIUM,
)
CALCULATIONS = (
    Calculation(
        "liquidus",
        "Temperature at which the iron begins to freeze",
        _ALL,
        "degC",
        LIQUIDUS_SOURCE,
        _work_liquidus,
    ),
    Calculation(
        "eutectic-temperature",
        "Eutectic temperature",
        (
            SILICON,
            Input("freezing", "how it freezes", "", choices=("grey", "white"), default="grey"),
        ),
        "degC",
        EUTECTIC_SOURCE,
        _work_eutectic,
    ),
)
