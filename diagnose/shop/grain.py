"""The curve of a sieve table: median grain, and how much of the grain lies near it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise

from diagnose.shop.calculation import Calculation, OutOfRange, Worked, figure
from diagnose.shop.sieve import PAN, RETAINED, SERIES, WHICH, shares


def passing(retained: Mapping[str, float], opening: float, series: str = "us") -> float:
    """Return the per cent of the grain finer than ``opening`` mm.

    Between two sieves the curve is drawn straight over the logarithm of the opening (our choice);
    raises OutOfRange below the finest sieve of the table, unless nothing went through that.
    """
    curve = _curve(retained, series)
    if not curve[-1][0] <= opening:
        if curve[-1][1] < 1e-9:
            return 0.0
        raise OutOfRange(
            f"{opening:.3g} mm lies below the finest sieve of the table "
            f"({curve[-1][0]:g} mm); sieve finer."
        )
    if opening >= curve[0][0]:
        return 100.0
    upper, lower = next(pair for pair in pairwise(curve) if pair[1][0] <= opening)
    part = math.log(opening / lower[0]) / math.log(upper[0] / lower[0])
    return lower[1] + part * (upper[1] - lower[1])


def median_grain(retained: Mapping[str, float], series: str = "us") -> float:
    """Return the opening in mm that half the grain would pass.

    References: trade lexicon, "Average grain size" (read): the size at 50 % passing. Raises
    OutOfRange when more than half went through the finest sieve.
    """
    curve = _curve(retained, series)
    if curve[-1][1] > 50:
        raise OutOfRange("more than half went through the finest sieve of the table; sieve finer.")
    upper, lower = next(pair for pair in pairwise(curve) if pair[1][1] <= 50)
    part = (50 - lower[1]) / (upper[1] - lower[1])
    return float(lower[0] * (upper[0] / lower[0]) ** part)


def uniformity(retained: Mapping[str, float], series: str = "us") -> float:
    """Return the per cent of grain between 2/3 and 4/3 of the median grain.

    References: trade lexicon, "Average grain size" (read).
    """
    median = median_grain(retained, series)
    return passing(retained, median * 4 / 3, series) - passing(retained, median * 2 / 3, series)


def _curve(retained: Mapping[str, float], series: str) -> list[tuple[float, float]]:
    """Return (opening, per cent passing) from the sieve that passes all down to the finest."""
    held = shares(retained, series)
    openings = {label: each[0] for label, each in SERIES[series].items()}
    coarsest = max(openings[label] for label in held)
    above = [opening for opening in openings.values() if opening > coarsest]
    curve = [(min(above) if above else coarsest * math.sqrt(2), 100.0)]
    left = 100.0
    for label, share in held.items():
        left -= share
        if label != PAN:
            curve.append((openings[label], max(left, 0.0)))
    return curve


def _work_median(retained: Mapping[str, float], series: str) -> Worked:
    value = median_grain(retained, series)
    curve = _curve(retained, series)
    working = (
        "median grain = opening that half the grain would pass",
        ", ".join(f"{opening:g} mm: {figure(part)} %" for opening, part in curve),
        f"= {figure(value)} mm",
    )
    return Worked(value, "mm", working, _MEDIAN.source)


def _work_uniformity(retained: Mapping[str, float], series: str) -> Worked:
    median = median_grain(retained, series)
    value = uniformity(retained, series)
    fine, coarse = (passing(retained, median * part, series) for part in (2 / 3, 4 / 3))
    working = (
        "uniformity = passing at 4/3 of the median - passing at 2/3 of it",
        f"= {figure(coarse)} % at {figure(median * 4 / 3)} mm"
        f" - {figure(fine)} % at {figure(median * 2 / 3)} mm",
        f"= {figure(value)} %",
    )
    return Worked(value, "%", working, _UNIFORMITY.source)


_MEDIAN = Calculation(
    "median-grain",
    "Median grain size",
    (RETAINED, WHICH),
    "mm",
    "Trade lexicon, Average grain size (read): size at 50 % passing; line drawn over log opening.",
    _work_median,
)
_UNIFORMITY = Calculation(
    "grain-uniformity",
    "Share of the grain near the median size",
    (RETAINED, WHICH),
    "%",
    "Trade lexicon, Average grain size (read): share between 2/3 and 4/3 of the median.",
    _work_uniformity,
)
CALCULATIONS = (_MEDIAN, _UNIFORMITY)
