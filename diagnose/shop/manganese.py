"""Manganese against sulphur: what is needed, what is over, and the product of the two."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.elements import MANGANESE, SILICON, SULPHUR
from diagnose.shop.series import Reading, within

TIED: Final = 1.7
"""Per cent of manganese that 1 % of sulphur ties up; the atomic weights give 1.714."""

_NEEDED_SOURCE = (
    "Mn = 1.7 S + excess; 0.3 % is the common excess, 0.1 % is safe in inoculated iron: Effect of "
    "manganese and sulfur on flake graphite irons, AFS (abstract read); 0.3 to 0.5 %: foundry page "
    "on manganese (read, commercial)."
)
_PRODUCT_SOURCE = (
    "Strength was best with Mn x S at or below the solubility of the sulphide at the liquidus: "
    "Manganese-sulfur ratio effects in gray cast iron, AFS 03-072 (abstract read). No limit was "
    "read as a figure."
)
_CAP_SOURCE = (
    "Manganese below 0.4 x silicon against hydrogen pinholes: supplier's technical sheet on "
    "hydrogen pinholes (read)."
)


def manganese_needed(sulphur: Reading, excess: float = 0.3) -> Reading:
    """Return the manganese in % that ties up the sulphur and leaves ``excess``, all in %.

    >>> round(manganese_needed(0.064), 4), round(manganese_needed(0.064, 0.5), 4)
    (0.4088, 0.6088)
    """
    within("sulphur", sulphur, "%", 0, 100)
    return TIED * sulphur + excess


def manganese_excess(manganese: Reading, sulphur: Reading) -> Reading:
    """Return the manganese in % beyond what ties up the sulphur; below zero it is short.

    >>> round(manganese_excess(0.92, 0.064), 3)
    0.811
    """
    within("manganese", manganese, "%", 0, 100)
    within("sulphur", sulphur, "%", 0, 100)
    return manganese - TIED * sulphur


def _work_needed(sulphur: float, excess: float) -> Worked:
    value = manganese_needed(sulphur, excess)
    lines = steps(
        "manganese needed = 1.7 x sulphur + excess",
        f"1.7 x {figure(sulphur)} + {figure(excess)}",
        value,
        "%",
    )
    return Worked(value, "%", lines, _NEEDED_SOURCE)


def _excess_warnings(excess: float) -> tuple[str, ...]:
    if excess < 0:
        return ("sulphur is left free: hard, chilled and short-running iron",)
    if excess < 0.1:
        return ("below the 0.1 % that is safe in inoculated iron: chill in thin parts",)
    if excess > 0.5:
        return (
            "above the 0.3 to 0.5 % asked for: with high sulphur and cold metal look for slag "
            "and gas holes under the skin",
        )
    return ()


def _work_excess(manganese: float, sulphur: float) -> Worked:
    value = manganese_excess(manganese, sulphur)
    lines = steps(
        "excess = manganese - 1.7 x sulphur",
        f"{figure(manganese)} - 1.7 x {figure(sulphur)}",
        value,
        "%",
    )
    return Worked(value, "%", lines, _NEEDED_SOURCE, _excess_warnings(value))


def _work_product(manganese: float, sulphur: float) -> Worked:
    value = manganese * sulphur
    lines = steps(
        "product = manganese x sulphur", f"{figure(manganese)} x {figure(sulphur)}", value, ""
    )
    warnings = [
        "compare it with your own good heats: the sooner sulphide forms, the more of it floats up; "
        "a high product and cold metal give slag and gas holes"
    ]
    if sulphur < 0.04:
        warnings.append("sulphur below 0.04 %: the iron asks for stronger inoculation")
    return Worked(value, "", lines, _PRODUCT_SOURCE, tuple(warnings))


def _work_cap(silicon: float) -> Worked:
    value = 0.4 * silicon
    lines = steps("most manganese = 0.4 x silicon", f"0.4 x {figure(silicon)}", value, "%")
    return Worked(value, "%", lines, _CAP_SOURCE, ("one published rule; wet sand matters more",))


CALCULATIONS = (
    Calculation(
        "manganese-needed",
        "Manganese needed for the sulphur",
        (SULPHUR, Input("excess", "manganese wanted beyond that", "%", 0, 1, default=0.3)),
        "%",
        _NEEDED_SOURCE,
        _work_needed,
    ),
    Calculation(
        "manganese-excess",
        "Manganese beyond what the sulphur takes",
        (MANGANESE, SULPHUR),
        "%",
        _NEEDED_SOURCE,
        _work_excess,
    ),
    Calculation(
        "manganese-sulphur-product",
        "Manganese times sulphur",
        (MANGANESE, SULPHUR),
        "",
        _PRODUCT_SOURCE,
        _work_product,
    ),
    Calculation(
        "manganese-cap",
        "Most manganese against hydrogen pinholes",
        (SILICON,),
        "%",
        _CAP_SOURCE,
        _work_cap,
    ),
)
