"""Contraction: how much larger the pattern is than the casting."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.series import Reading, within

GREY: Final[Mapping[str, float]] = {"free": 1.0, "hindered": 0.9}
"""Contraction of grey iron in % of length: foundry page (read, low authority)."""

PER_FOOT: Final = 100 / 12
"""Per cent in one inch to the foot."""

_SOURCE = (
    "Linear contraction of grey iron 1 % (handbook table, read, headed volume by mistake); 0.55 "
    "to 1.0 and 0.7 to 1.05 % elsewhere (read); hindered 0.9 % (read)."
)
_RULE_SOURCE = (
    "Shrink rules: cast iron 1/8 in to the foot (quoted), 3/32 (Applied science for metal workers, "
    "read)."
)


def pattern_size(casting: Reading, contraction: float) -> Reading:
    """Return the size of the pattern for a casting; ``contraction`` in %, any unit of length.

    The pattern is larger than the casting, never smaller.

    >>> round(pattern_size(300.0, 1.0), 6)
    303.0
    """
    within("casting", casting, "mm", above=True)
    return casting * (1 + contraction / 100)


def contraction_found(pattern: Reading, casting: Reading) -> Reading:
    """Return the contraction in % of the casting from pattern and casting of one length.

    >>> round(contraction_found(12.0, 11.75), 3)
    2.128
    """
    within("pattern", pattern, "mm", above=True)
    within("casting", casting, "mm", above=True)
    return (pattern - casting) / casting * 100


def per_cent(inches: float) -> float:
    """Return a shrink rule in % from inches to the foot.

    >>> round(per_cent(1 / 8), 3)
    1.042
    """
    return inches * PER_FOOT


def _work_pattern(casting: float, contraction: float, finish: float) -> Worked:
    value = pattern_size(casting + finish, contraction)
    lines = steps(
        "pattern = (casting + machining stock) x (1 + contraction / 100)",
        f"({figure(casting)} + {figure(finish)}) x (1 + {figure(contraction)} / 100)",
        value,
        "mm",
    )
    warnings = (
        f"{figure(GREY['free'])} % for a casting free to move, {figure(GREY['hindered'])} % where "
        "cores or lugs hold it (read)",
    )
    return Worked(value, "mm", lines, _SOURCE, warnings)


def _work_allowance(contraction: float) -> Worked:
    value = pattern_size(1000.0, contraction) - 1000.0
    lines = steps(
        "allowance = 1000 mm x contraction / 100",
        f"1000 x {figure(contraction)} / 100",
        value,
        "mm",
    )
    return Worked(value, "mm", lines, _SOURCE)


def _work_found(pattern: float, casting: float) -> Worked:
    value = contraction_found(pattern, casting)
    lines = steps(
        "contraction = (pattern - casting) / casting x 100",
        f"({figure(pattern)} - {figure(casting)}) / {figure(casting)} x 100",
        value,
        "%",
    )
    warnings: tuple[str, ...] = ()
    if value < 0:
        warnings = ("the casting is larger than its pattern: swell, rapping, or a strained mould",)
    elif value > 1.5:
        warnings = (
            "far above grey iron's 0.55 to 1.05 %: white iron contracts about 2.1 % (read)",
        )
    elif value < 0.55:
        warnings = ("below 0.55 %: rapping, soft moulds or a casting held back hide contraction",)
    return Worked(value, "%", lines, _SOURCE, warnings)


def _work_rule(inches: float) -> Worked:
    value = per_cent(inches)
    lines = steps(
        "contraction = inches to the foot / 12 x 100", f"{figure(inches)} / 12 x 100", value, "%"
    )
    return Worked(value, "%", lines, _RULE_SOURCE)


CALCULATIONS = (
    Calculation(
        "pattern-size",
        "Size of the pattern",
        (
            Input("casting", "size of the finished casting", "mm", 1, 10000),
            Input("contraction", "contraction in length", "%", 0, 3, default=GREY["free"]),
            Input("finish", "machining stock on this length", "mm", 0, 50, default=0),
        ),
        "mm",
        _SOURCE,
        _work_pattern,
    ),
    Calculation(
        "contraction-allowance",
        "Allowance on the pattern for each metre of the casting",
        (Input("contraction", "contraction in length", "%", 0, 3),),
        "mm",
        _SOURCE,
        _work_allowance,
    ),
    Calculation(
        "contraction-found",
        "Contraction from pattern and casting",
        (
            Input("pattern", "length on the pattern", "mm", 1, 10000),
            Input("casting", "the same length on the casting", "mm", 1, 10000),
        ),
        "%",
        _SOURCE,
        _work_found,
    ),
    Calculation(
        "shrink-rule",
        "Shrink rule in per cent",
        (Input("inches", "allowance to the foot", "inch", 0, 0.5),),
        "%",
        _RULE_SOURCE,
        _work_rule,
    ),
)
