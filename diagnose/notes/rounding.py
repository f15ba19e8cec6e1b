"""Amounts as a shop weighs them: two figures, and no finer than the scale."""

from __future__ import annotations

from math import floor, log10

from diagnose.basics.quantity import UNITS

PLAIN = {"ratio": "", "times": "times", "rounds": ""}
"""Units that are said in another way, or not at all, behind an amount."""


def weighable(value: float, least: float, *, two: bool = True) -> float:
    """Round to two figures, and to whole multiples of ``least``, which can just be weighed.

    ``two``: off for a figure whose nought means nothing, such as a temperature.

    >>> weighable(2.654, 0.5), weighable(73.42, 1.0), weighable(0.0137, 0.001), weighable(1437, 5)
    (2.5, 73.0, 0.014, 1400.0)
    >>> weighable(1437, 5, two=False)
    1435.0
    """
    if value == 0.0:
        return 0.0
    step = least
    if two:
        step = max(least, 10.0 ** (floor(log10(abs(value))) - 1))
        step = least * max(1, round(step / least))
    return float(f"{round(value / step) * step:.6g}")


def in_words(value: float, unit: str) -> str:
    """Write an amount with its unit.

    >>> in_words(2.5, "kg"), in_words(1.5, "times"), in_words(7.0, "rounds")
    ('2.5 kg', '1.5 times', '7')
    """
    return f"{value:g} {PLAIN.get(unit, unit)}".strip()


def has_two_figures(unit: str) -> bool:
    """Tell whether an amount in this unit is rounded to two figures: not so for a temperature.

    >>> has_two_figures("kg"), has_two_figures("degC")
    (True, False)
    """
    return unit == "K" or unit not in UNITS or UNITS[unit].kind != "temperature"
