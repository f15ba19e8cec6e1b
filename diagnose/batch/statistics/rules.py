"""The run rules of control charts, as arrays: which points complete which pattern.

Names and numbers follow L. S. Nelson (Journal of Quality Technology 16, 1984); four of them
stand, one with eight in place of nine, in the Western Electric handbook of 1956.
"""

from __future__ import annotations

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from diagnose.batch.statistics.cells import Bools, Floats

BEYOND = "beyond the limit"
ONE_SIDE = "nine on one side"
TREND = "six rising or falling"
ZIGZAG = "fourteen up and down"
TWO_OF_THREE = "two of three beyond two sigma"
FOUR_OF_FIVE = "four of five beyond one sigma"
HUGGING = "fifteen within one sigma"
SHUNNING = "eight outside one sigma"

RULES = (BEYOND, ONE_SIDE, TREND, ZIGZAG, TWO_OF_THREE, FOUR_OF_FIVE, HUGGING, SHUNNING)
SIGNAL = (BEYOND, ONE_SIDE)
"""The rules that mark a point by default; the others double and treble the false alarms."""


def _window(values: Bools, length: int, test: str, need: int | None = None) -> Bools:
    """Return where the last ``length`` flags hold ``need`` of them, the last point among them."""
    found = np.zeros(values.shape, dtype=bool)
    if values.shape[-1] >= length:
        seen = sliding_window_view(values, length, axis=-1)
        count = seen.sum(axis=-1)
        enough = count >= (length if need is None else need)
        last = values[..., length - 1 :]
        found[..., length - 1 :] = enough & last if test == "last" else enough
    return found


def run_rules(off: Floats, *, one_side: int = 9, width: float = 3.0) -> dict[str, Bools]:
    """Return for every rule which points complete its pattern.

    ``off``: points in sigma off the centre, along the last axis; charts along the others.
    ``one_side``: 9 after Nelson, 8 after Western Electric. A point on the centre ends a run.
    """
    high, low = off > 0, off < 0
    step = np.sign(np.diff(off, axis=-1, prepend=np.nan))
    turn = step[..., 1:] * step[..., :-1] < 0
    turns = np.concatenate([np.zeros_like(turn[..., :1]), turn], axis=-1)

    def either(limit: float, length: int, need: int) -> Bools:
        above, below = off > limit, off < -limit
        return _window(above, length, "last", need) | _window(below, length, "last", need)

    inside, outside = np.abs(off) < 1, np.abs(off) > 1
    return {
        BEYOND: np.abs(off) > width,
        ONE_SIDE: _window(high, one_side, "all") | _window(low, one_side, "all"),
        TREND: _window(step > 0, 5, "all") | _window(step < 0, 5, "all"),
        ZIGZAG: _window(turns, 12, "all"),
        TWO_OF_THREE: either(2.0, 3, 2),
        FOUR_OF_FIVE: either(1.0, 5, 4),
        HUGGING: _window(inside, 15, "all"),
        SHUNNING: _window(outside, 8, "all"),
    }


def run_chance(off: Floats, above: Floats, below: Floats) -> Floats:
    """Return how often chance makes a run on one side as long as the one that ends at each point.

    ``above`` and ``below``: chance of each point to lie there, which is not one half where few
    bad castings are expected. Twice the product of the run, at most 1.
    """
    side = np.sign(off)
    logs = np.log(np.maximum(np.where(side > 0, above, below), 1e-12))
    found = np.zeros(off.shape)
    for i in range(off.shape[-1]):
        goes_on = (side[..., i] == side[..., i - 1]) if i else np.zeros(off.shape[:-1], dtype=bool)
        found[..., i] = logs[..., i] + np.where(goes_on, found[..., i - 1] if i else 0.0, 0.0)
    chance: Floats = np.where(side == 0, 1.0, np.minimum(1.0, 2 * np.exp(found)))
    return chance
