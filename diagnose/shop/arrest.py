"""What the arrests of a cooling cup say of carbon and silicon."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps
from diagnose.shop.liquidus import (
    EUTECTIC_SOURCE,
    EUTECTICS,
    FALL,
    LIQUIDUS_SOURCE,
    MEASURED_BELOW,
    START,
)

_OWN_CUP: Final = (
    "each foundry must find its own relation for its cups and melting (study of thermal "
    "analysis, abstract read)"
)


def equivalent_from_arrest(arrest: float, rule: str = "regression") -> float:
    """Return the liquidus carbon equivalent in % that a first arrest in degC stands for.

    ``rule``: regression turns the liquidus rule round (read); classic is from memory.

    >>> round(equivalent_from_arrest(1206.4), 3)
    3.805
    """
    if rule == "classic":
        return 14.45 - 0.0089 * arrest
    if rule != "regression":
        raise OutOfRange(f"rule {rule!r} is not known; right would be regression or classic.")
    return (START - arrest) / FALL["carbon"]


def silicon_from_arrest(arrest: float, undercooling: float = MEASURED_BELOW["white"]) -> float:
    """Return the silicon in % that the arrest of a white-freezing cup stands for, degC.

    ``undercooling`` is how far the cup runs below the calculated eutectic, K.
    """
    plain, by_silicon = EUTECTICS["white"]
    return (arrest + undercooling - plain) / by_silicon


def carbon_from_arrests(first: float, second: float, undercooling: float) -> float:
    """Return the carbon in % from the first arrest and the white eutectic arrest, degC."""
    silicon = silicon_from_arrest(second, undercooling)
    return equivalent_from_arrest(first) - silicon * FALL["silicon"] / FALL["carbon"]


def _work_equivalent(arrest: float, rule: str) -> Worked:
    value = equivalent_from_arrest(arrest, rule)
    if rule == "regression":
        lines = steps("CEL = (1625 - arrest) / 110", f"(1625 - {figure(arrest)}) / 110", value, "%")
    else:
        lines = steps(
            "CEL = 14.45 - 0.0089 x arrest", f"14.45 - 0.0089 x {figure(arrest)}", value, "%"
        )
    other = equivalent_from_arrest(arrest, "classic" if rule == "regression" else "regression")
    warnings = (f"the other rule gives {figure(other)} %", _OWN_CUP)
    return Worked(value, "%", lines, _ARREST_SOURCE, warnings)


def _work_silicon(arrest: float, undercooling: float) -> Worked:
    value = silicon_from_arrest(arrest, undercooling)
    if not 0 < value < 5:
        raise OutOfRange(
            f"an arrest of {figure(arrest)} degC would mean {figure(value)} % silicon: not the "
            "white eutectic. Right would be about 1090 to 1135 degC, in a cup that freezes white."
        )
    lines = steps(
        "Si = (1147 - undercooling - arrest) / 12",
        f"(1147 - {figure(undercooling)} - {figure(arrest)}) / 12",
        value,
        "%",
    )
    return Worked(value, "%", lines, EUTECTIC_SOURCE, (_OWN_CUP, "constants from memory"))


def _work_carbon(first: float, second: float, undercooling: float) -> Worked:
    if first < second:
        raise OutOfRange("the first arrest lies below the second: change them round.")
    value = carbon_from_arrests(first, second, undercooling)
    silicon = silicon_from_arrest(second, undercooling)
    lines = steps(
        "C = CEL of the first arrest - 25/110 x Si of the second",
        f"{figure(equivalent_from_arrest(first))} - 0.2273 x {figure(silicon)}",
        value,
        "%",
    )
    warnings = (_OWN_CUP, "phosphorus and the rest are counted as carbon here")
    return Worked(value, "%", lines, f"{LIQUIDUS_SOURCE} {EUTECTIC_SOURCE}", warnings)


_ARREST_SOURCE = (
    "Carbon equivalent by saturation and by liquidus, AFS 2020 (read), turned round; classic "
    "14.45 - 0.0089 TL from memory."
)
_UNDERCOOLING = Input(
    "undercooling",
    "how far the cup runs below the calculated eutectic",
    "K",
    0,
    25,
    default=MEASURED_BELOW["white"],
)
_WHITE_ARREST = (1050.0, 1146.0)
CALCULATIONS = (
    Calculation(
        "arrest-carbon-equivalent",
        "Carbon equivalent by the first arrest",
        (
            Input("arrest", "first arrest of the cooling cup", "degC", 1130, 1350),
            Input(
                "rule", "which rule", "", choices=("regression", "classic"), default="regression"
            ),
        ),
        "%",
        _ARREST_SOURCE,
        _work_equivalent,
    ),
    Calculation(
        "arrest-silicon",
        "Silicon by the white eutectic arrest",
        (
            Input("arrest", "arrest of a cup that freezes white", "degC", *_WHITE_ARREST),
            _UNDERCOOLING,
        ),
        "%",
        EUTECTIC_SOURCE,
        _work_silicon,
    ),
    Calculation(
        "arrest-carbon",
        "Carbon by both arrests",
        (
            Input("first", "first arrest", "degC", 1130, 1350),
            Input("second", "arrest of a cup that freezes white", "degC", *_WHITE_ARREST),
            _UNDERCOOLING,
        ),
        "%",
        f"{LIQUIDUS_SOURCE} {EUTECTIC_SOURCE}",
        _work_carbon,
    ),
)
