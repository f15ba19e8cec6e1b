"""The charge: what a mixture holds of an element, and what melting makes of it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps
from diagnose.shop.carbon import carbon_equivalent, side_of_eutectic


@dataclass(frozen=True, slots=True)
class Change:
    """What melting does to an element: ``gain`` in % points, ``loss`` in % of what was there."""

    gain: float = 0.0
    loss: float = 0.0


USUAL: Final[Mapping[str, Change]] = {
    "carbon": Change(gain=0.15),
    "silicon": Change(loss=10),
    "manganese": Change(loss=20),
    "sulphur": Change(gain=0.05),
    "phosphorus": Change(),
}
"""Textbook allowances for the cupola (read); silicon may lose 30 % at worst."""

SEEN: Final[Mapping[str, tuple[float, float]]] = {
    "silicon": (-0.30, -0.10),
    "sulphur": (0.01, 0.06),
    "manganese": (-0.30, -0.10),
}
"""Change on remelting in % points, Metallurgy of Cast Iron, p. 303-304 (read)."""

_MIX_SOURCE = "Weighted mean; a gain is added in % points, a loss taken as a share of the content."
_ALLOWANCES = (
    "usual allowances for the cupola (textbook, read): carbon +0.15 %, silicon -10 % (to -30 % at "
    "worst), manganese -15 to -20 %, sulphur +0.03 to +0.05 %"
)
_REMELT_SOURCE = "Metallurgy of Cast Iron, c. 1902, Table 62 and p. 303-304 (read)."
_EQUIVALENT_SOURCE = f"C + (Si + P)/3 of the melted mixture; {_ALLOWANCES}."


def mixed(weights: Mapping[str, float], contents: Mapping[str, float]) -> float:
    """Return the content in % of a mixture from weights (any unit) and contents in %.

    Raises OutOfRange when the two tables do not name the same materials, or nothing is weighed in.

    References: Metallurgy of Cast Iron (read) on equal weights of pig at 1.60 and 2.20 % silicon:

    >>> round(mixed({"first": 1, "second": 1}, {"first": 1.60, "second": 2.20}), 4)
    1.9
    """
    problems = [f"{name}: no content is given for it." for name in weights if name not in contents]
    problems += [f"{name}: no weight is given for it." for name in contents if name not in weights]
    if any(not (math.isfinite(weight) and weight >= 0) for weight in weights.values()):
        problems.append("weights: one of them cannot be; right would be 0 or more.")
    elif not sum(weights.values()) > 0:
        problems.append("weights: nothing is weighed in.")
    if problems:
        raise OutOfRange(*problems)
    return sum(weights[name] * contents[name] for name in weights) / sum(weights.values())


def melted(content: float, change: Change) -> float:
    """Return the content in % after melting.

    >>> round(melted(1.825, Change(loss=10)), 4), round(melted(3.32, Change(gain=0.15)), 2)
    (1.6425, 3.47)
    """
    return content * (1 - change.loss / 100) + change.gain


def before_melting(content: float, change: Change) -> float:
    """Return the content in % that the charge must have; the inverse of ``melted``."""
    return (content - change.gain) / (1 - change.loss / 100)


def _work_element(
    weights: Mapping[str, float], contents: Mapping[str, float], gain: float, loss: float
) -> Worked:
    raw = mixed(weights, contents)
    value = melted(raw, Change(gain, loss))
    if value < 0:
        raise OutOfRange(f"gain: {figure(gain)} % points leave less than nothing of the element.")
    total = sum(weights.values())
    working = (
        "content = sum of (weight x content) / sum of weights, less the loss, plus the gain",
        *(
            f"{name}: {figure(weight)} x {figure(contents[name])} %"
            f" = {figure(weight * contents[name] / 100)}"
            for name, weight in weights.items()
        ),
        f"in the charge: {figure(raw * total / 100)} / {figure(total)} = {figure(raw)} %",
        f"= {figure(raw)} x (1 - {figure(loss)} / 100) + {figure(gain)}",
        f"= {figure(value)} %",
    )
    return Worked(value, "%", working, _MIX_SOURCE, (_ALLOWANCES,))


def _work_equivalent(
    weights: Mapping[str, float],
    carbon: Mapping[str, float],
    silicon: Mapping[str, float],
    phosphorus: Mapping[str, float],
) -> Worked:
    tables = {"carbon": carbon, "silicon": silicon, "phosphorus": phosphorus}
    iron = {name: melted(mixed(weights, table), USUAL[name]) for name, table in tables.items()}
    value = carbon_equivalent(iron["carbon"], iron["silicon"], iron["phosphorus"])
    working = (
        "CE = C + (Si + P)/3 of the mixture after melting",
        *(
            f"{name}: {figure(mixed(weights, tables[name]))} % in the charge, "
            f"{figure(content)} % melted"
            for name, content in iron.items()
        ),
        f"= {figure(iron['carbon'])} + ({figure(iron['silicon'])} + "
        f"{figure(iron['phosphorus'])}) / 3",
        f"= {figure(value)} %",
    )
    warnings = (_ALLOWANCES, *side_of_eutectic(value))
    return Worked(value, "%", working, _EQUIVALENT_SOURCE, warnings)


def _work_remelt(element: str, charged: float, tapped: float) -> Worked:
    value = tapped - charged
    low, high = SEEN[element]
    warnings: tuple[str, ...] = ()
    if not low <= round(value, 6) <= high:
        warnings = (
            f"outside the {figure(low)} to {figure(high)} % points of the old tables: "
            "look at blast, coke and how the charge was weighed",
        )
    lines = steps(
        f"change of {element} = tapped - charged",
        f"{figure(tapped)} - {figure(charged)}",
        value,
        "% points",
    )
    return Worked(value, "% points", lines, _REMELT_SOURCE, warnings)


WEIGHTS: Final = Input("weights", "weight of each material, by name", "kg", 0, 1e5, table=True)
GAIN: Final = Input("gain", "gain in melting", "% points", -1, 2, default=0)
LOSS: Final = Input("loss", "loss in melting, as a share of the content", "%", 0, 60, default=0)


def contents_of(element: str) -> Input:
    """Return the input for a table of contents by material."""
    what = f"{element} of each material, by the same names"
    return Input("contents" if element == "element" else element, what, "%", 0, 100, table=True)


CALCULATIONS = (
    Calculation(
        "charge-element",
        "What a charge gives of one element",
        (WEIGHTS, contents_of("element"), GAIN, LOSS),
        "%",
        _MIX_SOURCE,
        _work_element,
    ),
    Calculation(
        "charge-carbon-equivalent",
        "Carbon equivalent that a cupola charge gives",
        (WEIGHTS, contents_of("carbon"), contents_of("silicon"), contents_of("phosphorus")),
        "%",
        _EQUIVALENT_SOURCE,
        _work_equivalent,
    ),
    Calculation(
        "melting-change",
        "Change of an element from charge to tap",
        (
            Input("element", "which element", "", choices=tuple(SEEN)),
            Input("charged", "content of the charge", "%", 0, 10),
            Input("tapped", "content of the tapped iron", "%", 0, 10),
        ),
        "% points",
        _REMELT_SOURCE,
        _work_remelt,
    ),
)
