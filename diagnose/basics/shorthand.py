"""Readings as a shop jots them down: ranges, fractions, "approx", ratios, numbers without a unit.

They are turned into what ``quantity`` reads, and nothing is guessed: a number without a unit is
taken in the unit of its field, and only where it can be one.
"""

from __future__ import annotations

import re
from unicodedata import numeric

from diagnose.basics.errors import Fault
from diagnose.basics.quantity import BARE, read_quantity, unit_named

Possible = tuple[float, float]

_ABOUT = re.compile(
    r"^(?:approx(?:imately)?|about|abt|around|circa|ca|say|roughly|c)\.?\s+|^[~<>=\u2248\u2264\u2265]\s*",
    re.IGNORECASE,
)
_NUMBER = r"\d+(?:[.,]\d+)?|[.,]\d+"
_RANGE = re.compile(rf"({_NUMBER})\s*(?:-|\u2013|to)\s*({_NUMBER})\s*([^\d].*)?$", re.DOTALL)
_FRACTION = re.compile(
    r"(?:(\d+)[\s-]+)?(\d+)\s*/\s*(\d+)\s*([^\d].*)?$|(\d*)\s*([\u00bc-\u00be\u2150-\u215e])\s*(.*)$",
    re.DOTALL,
)
_RATIO = re.compile(
    rf"({_NUMBER})\s*([^\d\s:/]*)\s*(?::|/|\bto\b|\bin\b|\bon\b)\s*({_NUMBER})\s*([^\d]*)$"
)


def read_jotted(text: str, wanted: str, name: str, possible: Possible) -> tuple[float, ...]:
    """Return the readings of a jotted text in the unit ``wanted``.

    ``possible``: what the quantity can be. Raises Fault as ``read_quantity`` does.

    >>> read_jotted("approx 0,25", "mm", "coat", (0.0, 5.0))
    (0.25,)
    >>> read_jotted('3/8"', "mm", "wall", (1.0, 600.0))
    (9.524999999999999,)
    >>> read_jotted("1:4", "ratio", "gates", (0.0, 9.0))
    (0.25,)
    >>> read_jotted("4.4-4.6 %", "%", "moisture", (0.3, 15.0))
    (4.4, 4.6)
    """
    plain = _ABOUT.sub("", text.strip())
    if wanted == "ratio" and (value := _ratio(plain)) is not None:
        return (value,)
    if (match := _FRACTION.fullmatch(plain)) is not None:  # before ranges: 1-1/2 in is one length
        plain = _decimal(match)
    elif (match := _RANGE.fullmatch(plain)) is not None:
        plain = f"{match[1]}; {match[2]} {match[3] or ''}"
    parts = [part.strip() for part in re.split(r";|,\s|\sand\s", plain) if part.strip()]
    bare = bool(parts) and not any(re.search(r"[^\d\s.,+\u2212-]", part) for part in parts)
    if bare and wanted not in BARE and all(_can_be(p, wanted, name, possible) for p in parts):
        plain = f"{plain.rstrip(' ;')} {wanted}"
    return read_quantity(plain, wanted, name)


def _can_be(number: str, wanted: str, name: str, possible: Possible) -> bool:
    try:
        (value,) = read_quantity(f"{number} {wanted}", wanted, name)
    except (Fault, ValueError):
        return False
    return possible[0] <= value <= possible[1]


def _decimal(match: re.Match[str]) -> str:
    """Return a number with a fraction as a decimal, with its unit."""
    whole, above, below, unit, other, sign, behind = match.groups()
    if sign:
        return f"{float(other or 0) + numeric(sign):.10g} {behind}"
    value = float(whole or 0) + (float(above) / float(below) if float(below) else 0.0)
    return f"{value:.10g} {unit or ''}"


def _ratio(text: str) -> float | None:
    """Return two numbers set against each other, or a share in per cent, as one number."""
    match = _RATIO.fullmatch(text)
    if match is None:
        share = re.fullmatch(rf"({_NUMBER})\s*%", text)
        return _float(share[1]) / 100.0 if share else None
    above, unit, below, other = match.groups()
    units = {unit_named(one) or one for one in (unit, other.strip()) if one}
    if len(units) > 1 or not _float(below):
        return None
    return _float(above) / _float(below)


def _float(text: str) -> float:
    return float(text.replace(",", "."))
