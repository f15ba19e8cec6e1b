"""What a check or a reading says, as four weights over its finding's basis (1, A, B, A*B).

A is the chance that no present condition of the low side shows, B the same for the high side.
A check has only a low side: its bad answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import erf, inf, sqrt

import numpy as np

from diagnose.engine.cliquetree import Floats

Weights = tuple[float, float, float, float]


def check_weights(bad: bool, false_alarm: float) -> Weights:
    """Return the weights of a check's answer.

    >>> check_weights(True, 0.1), check_weights(False, 0.1)
    ((1.0, -0.9, 0.0, 0.0), (0.0, 0.9, 0.0, 0.0))
    """
    clear = 1.0 - false_alarm
    return (1.0, -clear, 0.0, 0.0) if bad else (0.0, clear, 0.0, 0.0)


def bands(
    values: Sequence[float], low: float | None, high: float | None, repeatability: float
) -> tuple[float, float, float]:
    """Return the chances that the true value lies below, within and above the window.

    The mean of repeated readings counts, with the standard deviation of the mean; a window with
    one end open has no band there.

    >>> [round(p, 3) for p in bands([4.0], 2.5, 4.0, 0.15)]
    [0.0, 0.5, 0.5]
    """
    under = 0.0 if low is None else _below(values, low, repeatability)
    over = 0.0 if high is None else 1.0 - _below(values, high, repeatability)
    return (under, max(0.0, 1.0 - under - over), over)


def _below(values: Sequence[float], limit: float, repeatability: float) -> float:
    """Return the chance that the true value lies below a limit, by the mean of the readings."""
    mean = sum(values) / len(values)
    spread = repeatability / sqrt(len(values))
    if spread == 0.0 or limit in (inf, -inf):
        return float(mean < limit)
    return 0.5 * (1.0 + erf((limit - mean) / (spread * sqrt(2.0))))


def band_likelihood(
    values: Sequence[float], ends: Sequence[tuple[float, float]], repeatability: float
) -> tuple[float, ...]:
    """Return how likely readings are if the true value lies in each of some bands.

    ``ends``: the low and the high end of every band; one whose ends meet is not there. Inside its
    band the true value may lie anywhere, so that a reading on the edge of two speaks for both
    alike (virtual evidence; only the ratios matter).

    >>> [round(p, 3) for p in band_likelihood([40.0], [(-inf, 60.0), (60.0, 85.0), (85.0, inf)], 3)]
    [1.0, 0.0, 0.0]
    """
    chances = [
        _below(values, high, repeatability) - _below(values, low, repeatability)
        for low, high in ends
    ]
    return tuple(max(0.0, chance) for chance in chances)


def reading_weights(
    chances: Sequence[float], sides: tuple[bool, bool], stray: float, odd_sample: float
) -> Weights:
    """Return the weights of a reading.

    ``chances``: of the true value lying below, within, above the window. ``sides``: whether the
    window has a low and a high end. ``stray``: chance of lying outside on one side for no known
    reason. ``odd_sample``: chance that the sample says nothing, which caps what any number of
    readings can prove. Where both sides are pushed at once they cancel.
    """
    under, within, over = (odd_sample / 3 + (1.0 - odd_sample) * p for p in chances)
    a = 1.0 - stray if sides[0] else 1.0
    b = 1.0 - stray if sides[1] else 1.0
    return (within, a * (over - within), b * (under - within), a * b * (2 * within - under - over))


def check_outcomes(false_alarm: float) -> Floats:
    """Return the weights of both answers of a check, the bad one first."""
    return np.array([check_weights(True, false_alarm), check_weights(False, false_alarm)])


def reading_outcomes(sides: tuple[bool, bool], stray: float, odd_sample: float) -> Floats:
    """Return the weights of a clear reading below, within and above the window.

    A band that the window does not have is left out; the rows add up to (1, 0, 0, 0).
    """
    rows = [
        reading_weights(chances, sides, stray, odd_sample)
        for chances in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    ]
    return np.array(rows)
