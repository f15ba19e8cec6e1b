"""Residual elements that make gas or leaks: how many published limits an iron has passed.

The sources set their limits apart. Each is kept, and the answer is how many of them are passed:
a risk that rises with the content instead of one cut.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps
from diagnose.shop.elements import ALUMINIUM, CHROMIUM, MOLYBDENUM, NITROGEN, PHOSPHORUS, TITANIUM
from diagnose.shop.series import Reading, within


@dataclass(frozen=True, slots=True)
class Limit:
    """A published limit: above ``value`` the source saw, or feared, the fault."""

    value: float
    source: str


_FISSURES = "Nitrogen fissure defects in iron castings (read)"
_BROADSHEET = "research association broadsheet 41, Nitrogen in cast iron (read)"
_CHAPTER = "chapter on fissure defects (read)"
NITROGEN_LIMITS: Final[Mapping[str, tuple[Limit, ...]]] = {
    "light": (Limit(100, _CHAPTER), Limit(120, _FISSURES), Limit(130, _BROADSHEET)),
    "heavy": (Limit(80, _FISSURES), Limit(80, _BROADSHEET), Limit(100, _CHAPTER)),
}
"""Limits of nitrogen in ppm by section."""

ALUMINIUM_LIMITS: Final = (
    Limit(0.005, "supplier's sheet 12, light sections (read)"),
    Limit(0.01, "study of pinholes, Archives of Foundry Engineering (abstract read)"),
    Limit(0.02, "supplier's sheet 30 (read)"),
)
"""Limits of aluminium in % against hydrogen pinholes."""

NITRIDE: Final = 47.867 / 14.007
"""Weight of titanium that one of nitrogen takes into TiN (IUPAC atomic weights)."""

_TITANIUM_SOURCE = (
    "TiN by atomic weights, all of the titanium taken to act: an upper bound. The broadsheet's "
    "cure of 0.02 to 0.03 % Ti (read) ties 59 to 88 ppm by it."
)
_LEAKER_SOURCE = (
    "Leakers are far likelier above 0.06 % P together with more than 0.50 % Cr + Mo: quoted text "
    "(read, low authority)."
)


def passed(value: float, limits: tuple[Limit, ...]) -> int:
    """Return how many of the limits ``value`` lies above; never falls as the value rises.

    >>> [passed(ppm, NITROGEN_LIMITS["light"]) for ppm in (90, 110, 125, 140)]
    [0, 1, 2, 3]
    """
    return sum(value > each.value for each in limits)


def free_nitrogen(nitrogen: Reading, titanium: Reading) -> Reading:
    """Return the nitrogen in ppm that titanium (in %) leaves free, not below nil.

    >>> round(free_nitrogen(120.0, 0.02), 1)
    61.5
    """
    within("nitrogen", nitrogen, "ppm")
    within("titanium", titanium, "%", 0, 100)
    left = nitrogen - titanium * 1e4 / NITRIDE
    return left * (left > 0)


def titanium_for(nitrogen: float, limit: float) -> float:
    """Return the titanium in % that brings nitrogen down to ``limit``, both in ppm.

    >>> round(titanium_for(120, 80), 4)
    0.0137
    """
    return max(nitrogen - limit, 0.0) * NITRIDE / 1e4


def leaker_signs(phosphorus: float, chromium: float, molybdenum: float) -> int:
    """Return how many of the two signs stand: P above 0.06 %, Cr + Mo above 0.50 %.

    >>> leaker_signs(0.08, 0.4, 0.2), leaker_signs(0.08, 0.3, 0.1), leaker_signs(0.05, 0.1, 0.0)
    (2, 1, 0)
    """
    return int(phosphorus > 0.06) + int(chromium + molybdenum > 0.50)


def _held_against(value: float, unit: str, limits: tuple[Limit, ...]) -> tuple[str, ...]:
    return tuple(
        f"{figure(value)} {'is above' if value > each.value else 'is within'} "
        f"{figure(each.value)} {unit}: {each.source}"
        for each in limits
    )


def _work_nitrogen(nitrogen: float, titanium: float, section: str) -> Worked:
    free = free_nitrogen(nitrogen, titanium)
    limits = NITROGEN_LIMITS[section]
    value = passed(free, limits)
    working = (
        "count the published limits that the free nitrogen lies above",
        f"free = {figure(nitrogen)} - {figure(titanium)} x 10000 / 3.417 = {figure(free)} ppm",
        *_held_against(free, "ppm", limits),
        f"= {value} of {len(limits)}",
    )
    warnings: tuple[str, ...] = (
        "high steel charges, low carbon equivalent and nitrogen from core binders add up",
    )
    if nitrogen > free:
        warnings += ("not all titanium acts; too much of it brings hydrogen pinholes",)
    return Worked(value, "of 3 limits", working, _NITROGEN_SOURCE, warnings)


def _work_titanium(nitrogen: float, limit: float) -> Worked:
    value = titanium_for(nitrogen, limit)
    lines = steps(
        "titanium = (nitrogen - limit) x 3.417 / 10000",
        f"({figure(nitrogen)} - {figure(limit)}) x 3.417 / 10000",
        value,
        "%",
    )
    warnings: tuple[str, ...] = ("a least figure: not all titanium acts",)
    if value > 0.03:
        warnings += ("above the 0.02 to 0.03 % of the published cure: find the nitrogen instead",)
    return Worked(value, "%", lines, _TITANIUM_SOURCE, warnings)


def _work_aluminium(aluminium: float) -> Worked:
    value = passed(aluminium, ALUMINIUM_LIMITS)
    working = (
        "count the published limits that the aluminium lies above",
        *_held_against(aluminium, "%", ALUMINIUM_LIMITS),
        f"= {value} of {len(ALUMINIUM_LIMITS)}",
    )
    warnings = (
        "wet sand, damp ladles and rusty charge feed the same holes; aluminium comes with "
        "inoculants and dirty scrap",
    )
    return Worked(value, "of 3 limits", working, _ALUMINIUM_SOURCE, warnings if value else ())


def _work_leakers(phosphorus: float, chromium: float, molybdenum: float) -> Worked:
    value = leaker_signs(phosphorus, chromium, molybdenum)
    both = chromium + molybdenum
    working = (
        "count: phosphorus above 0.06 %, chromium + molybdenum above 0.50 %",
        f"phosphorus {figure(phosphorus)} %: {'above' if phosphorus > 0.06 else 'within'}",
        f"chromium + molybdenum {figure(both)} %: {'above' if both > 0.5 else 'within'}",
        f"= {value} of 2",
    )
    warnings = ("both signs stand: leakers in pressure work are likely",) if value == 2 else ()
    return Worked(value, "of 2 signs", working, _LEAKER_SOURCE, warnings)


def _checked_limit(nitrogen: float, limit: float) -> Worked:
    if limit >= nitrogen:
        raise OutOfRange(
            f"{figure(nitrogen)} ppm already lies within {figure(limit)} ppm: no titanium needed."
        )
    return _work_titanium(nitrogen, limit)


_NITROGEN_SOURCE = f"{_FISSURES}; {_BROADSHEET}; {_CHAPTER}."
_ALUMINIUM_SOURCE = "; ".join(each.source for each in ALUMINIUM_LIMITS) + "."
CALCULATIONS = (
    Calculation(
        "nitrogen-risk",
        "Nitrogen limits passed",
        (
            NITROGEN,
            TITANIUM,
            Input("section", "section of the casting", "", choices=tuple(NITROGEN_LIMITS)),
        ),
        "of 3 limits",
        _NITROGEN_SOURCE,
        _work_nitrogen,
    ),
    Calculation(
        "titanium-for-nitrogen",
        "Titanium to tie up nitrogen",
        (NITROGEN, Input("limit", "nitrogen that may stay free", "ppm", 0, 500, default=80)),
        "%",
        _TITANIUM_SOURCE,
        _checked_limit,
    ),
    Calculation(
        "aluminium-risk",
        "Aluminium limits passed (hydrogen pinholes)",
        (ALUMINIUM,),
        "of 3 limits",
        _ALUMINIUM_SOURCE,
        _work_aluminium,
    ),
    Calculation(
        "leaker-risk",
        "Signs of phosphide leakers",
        (PHOSPHORUS, CHROMIUM, MOLYBDENUM),
        "of 2 signs",
        _LEAKER_SOURCE,
        _work_leakers,
    ),
)
