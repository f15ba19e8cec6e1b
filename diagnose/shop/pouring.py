"""How long a mould should take to pour, by the published rules, each under its own name."""

from __future__ import annotations

import math
from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.metal import MOLTEN
from diagnose.shop.series import within

CHANGEOVER: Final = 450.0
"""Weight in kg at which the grey-iron rule changes its form."""

_SHEET = "Useful equations, gating sheet (read)"
TIME_SOURCE = f"{_SHEET}, light and heavy grey iron; fluidity in inches of the spiral over 40."
_SECTION_SOURCE = (
    "Pages on pouring time (read): S x (W x T)^(1/3), with about 2.63 for 450 to 1000 kg."
)
_ROOT_SOURCE = "Pages on pouring time (read): S x W^0.5; 1.82 for thin shell-moulded work."
_STEEL_SOURCE = "Page on pouring time (read): (2.4335 - 0.3953 log10 W) x W^0.5."


def light_grey(weight: float, section: float, fluidity: float = 28.0) -> float:
    """Return the pouring time in s of a grey casting below 450 kg by the light rule.

    ``weight`` in kg, mean ``section`` in mm, ``fluidity`` in inches of the spiral.

    References: gating sheet (read); example with 7.63 s from memory.

    >>> round(light_grey(20, 15), 2)
    7.63
    """
    within("weight", weight, "kg", above=True)
    return fluidity / 40 * (1.41 + section / 14.59) * math.sqrt(weight)


def heavy_grey(weight: float, section: float, fluidity: float = 28.0) -> float:
    """Return the pouring time in s of a grey casting above 450 kg by the heavy rule.

    >>> round(heavy_grey(1000, 25), 2)
    19.16
    """
    within("weight", weight, "kg", above=True)
    return float(fluidity / 40 * (1.236 + section / 16.65) * weight ** (1 / 3))


def by_section(weight: float, section: float, factor: float = 2.63) -> float:
    """Return the pouring time in s by the section rule; weight in kg, section in mm.

    >>> round(by_section(500, 20), 1)
    56.7
    """
    within("weight", weight, "kg", above=True)
    return float(factor * (weight * section) ** (1 / 3))


def by_root(weight: float, factor: float = 1.82) -> float:
    """Return the pouring time in s by the root rule for thin-walled work; weight in kg.

    References: page on ductile iron in shell moulds (read), 11.04 s for 36.8 kg.

    >>> round(by_root(36.8), 2)
    11.04
    """
    within("weight", weight, "kg", above=True)
    return factor * math.sqrt(weight)


def steel(weight: float) -> float:
    """Return the pouring time in s of a steel casting; weight in kg.

    References: formula read; the example with 8.58 s is from memory.

    >>> round(steel(20), 2)
    8.58
    """
    within("weight", weight, "kg", above=True)
    value = (2.4335 - 0.3953 * math.log10(weight)) * math.sqrt(weight)
    within("time by the steel rule", value, "s", above=True)
    return value


def grey_rule(weight: float) -> str:
    """Return the name of the grey-iron rule for a weight in kg.

    >>> grey_rule(440), grey_rule(460)
    ('light rule', 'heavy rule')
    """
    return "light rule" if weight <= CHANGEOVER else "heavy rule"


def second_opinion(weight: float, section: float) -> tuple[str, float]:
    """Return the name of another published rule for this weight in kg, and its time in s.

    >>> [second_opinion(weight, 20)[0] for weight in (20, 500)]
    ['root rule', 'section rule']
    """
    if weight <= CHANGEOVER:
        return "root rule", by_root(weight)
    return "section rule", by_section(weight, section)


def _work_grey(weight: float, section: float, fluidity: float) -> Worked:
    rule = grey_rule(weight)
    light, heavy = (each(weight, section, fluidity) for each in (light_grey, heavy_grey))
    value = light if rule == "light rule" else heavy
    if rule == "light rule":
        formula, constants, root = "K x (1.41 + section / 14.59) x weight^0.5", (1.41, 14.59), 0.5
    else:
        formula, constants = "K x (1.236 + section / 16.65) x weight^(1/3)", (1.236, 16.65)
        root = 1 / 3
    other_rule, other = second_opinion(weight, section)
    working = (
        f"{rule}: time = {formula}, K = spiral in inches / 40",
        f"= {figure(fluidity / 40)} x ({constants[0]} + {figure(section)} / {constants[1]})"
        f" x {figure(weight**root)}",
        f"= {figure(value)} s by the {rule}; the {other_rule} says {figure(other)} s",
    )
    warnings = [f"the {rule} only; take it as the middle of a range and watch the first moulds"]
    if 300 <= weight <= 700:
        warnings.append(
            f"the rule jumps at {figure(CHANGEOVER)} kg: light {figure(light)} s, heavy "
            f"{figure(heavy)} s for this casting; do not trust either alone"
        )
    apart = max(value, other) / min(value, other)
    if apart > 2:
        warnings.append(f"{rule} and {other_rule} lie {apart:.1f}-fold apart here")
    return Worked(value, "s", working, TIME_SOURCE, (*warnings, MOLTEN))


def _work_section(weight: float, section: float, factor: float) -> Worked:
    value = by_section(weight, section, factor)
    lines = steps(
        "section rule: time = factor x (weight x section)^(1/3)",
        f"{figure(factor)} x ({figure(weight)} x {figure(section)})^(1/3)",
        value,
        "s",
    )
    grey = (light_grey if grey_rule(weight) == "light rule" else heavy_grey)(weight, section)
    warnings = [f"the {grey_rule(weight)} of grey iron says {figure(grey)} s for the same casting"]
    if not CHANGEOVER <= weight <= 1000:
        warnings.append("published for 450 to 1000 kg")
    return Worked(value, "s", lines, _SECTION_SOURCE, (*warnings, MOLTEN))


def _work_root(weight: float, factor: float) -> Worked:
    value = by_root(weight, factor)
    lines = steps(
        "root rule: time = factor x weight^0.5",
        f"{figure(factor)} x {figure(weight)}^0.5",
        value,
        "s",
    )
    warnings = () if weight <= CHANGEOVER else ("published for thin-walled work up to 450 kg",)
    return Worked(value, "s", lines, _ROOT_SOURCE, (*warnings, MOLTEN))


def _work_steel(weight: float) -> Worked:
    value = steel(weight)
    lines = steps(
        "steel rule: time = (2.4335 - 0.3953 x log10 weight) x weight^0.5",
        f"(2.4335 - 0.3953 x {figure(math.log10(weight))}) x {figure(math.sqrt(weight))}",
        value,
        "s",
    )
    return Worked(value, "s", lines, _STEEL_SOURCE, ("for steel, not for iron", MOLTEN))


def _work_factor(time: float, weight: float) -> Worked:
    value = time / math.sqrt(weight)
    lines = steps(
        "factor of the root rule = time / weight^0.5",
        f"{figure(time)} / {figure(weight)}^0.5",
        value,
        "",
    )
    return Worked(value, "", lines, _ROOT_SOURCE, ("your own factor: keep it with the pattern",))


_WEIGHT = Input("weight", "poured weight, gates and feeders with it", "kg", 0.1, 20000)
_SECTION = Input("section", "mean section", "mm", 2, 200)
CALCULATIONS = (
    Calculation(
        "pouring-time",
        "Pouring time of grey iron",
        (
            _WEIGHT,
            _SECTION,
            Input("fluidity", "length of the spiral", "inch", 10, 60, default=28),
        ),
        "s",
        TIME_SOURCE,
        _work_grey,
    ),
    Calculation(
        "pouring-time-by-section",
        "Pouring time by the section rule",
        (_WEIGHT, _SECTION, Input("factor", "factor of the rule", "", 0.5, 20, default=2.63)),
        "s",
        _SECTION_SOURCE,
        _work_section,
    ),
    Calculation(
        "pouring-time-by-root",
        "Pouring time by the root rule (thin-walled work)",
        (_WEIGHT, Input("factor", "factor of the rule", "", 0.5, 25, default=1.82)),
        "s",
        _ROOT_SOURCE,
        _work_root,
    ),
    Calculation(
        "pouring-factor",
        "Factor of the root rule from a pour that went well",
        (Input("time", "time of the pour", "s", 0.5, 600), _WEIGHT),
        "",
        _ROOT_SOURCE,
        _work_factor,
    ),
    Calculation(
        "pouring-time-steel",
        "Pouring time of steel",
        (_WEIGHT,),
        "s",
        _STEEL_SOURCE,
        _work_steel,
    ),
)
