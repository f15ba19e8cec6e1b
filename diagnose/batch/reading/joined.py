"""Readings of the shop beside the castings that were poured: by heat, or by the time."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from diagnose.batch.reading.data import BatchData, Cells, Floats, Readings
from diagnose.batch.tables import expressions
from diagnose.batch.tables.engine import engine

if TYPE_CHECKING:
    from numpy.typing import NDArray

DAY = 1440.0
"""Minutes."""
NOON = 720.0
"""Minute of the day that is taken for a pouring of which only the day is known."""
FRESH = 3 * DAY
"""Minutes after which a reading says nothing any more of what is poured."""


def reading_of(data: BatchData, cells: Cells, quantity: str, lag: int = 0) -> Floats:
    """Return the reading that holds for each cell, nan where there is none.

    By heat (and day, where both are known) if the readings of this quantity name heats, the mean
    of several; else the latest at or before the cell on the same day or the three before it, or
    ``lag`` readings earlier.
    """
    readings = data.readings
    empty = np.full(len(cells.day), np.nan)
    if readings is None or quantity not in readings.quantities:
        return empty
    mine = readings.quantity == readings.quantities.index(quantity)
    by_heat = "heat" in cells.factors and bool((readings.heat[mine] >= 0).mean() > 0.5)
    if by_heat and lag == 0:
        return _by_heat(cells, readings, mine)
    return _by_time(cells, readings, mine, lag)


def _by_heat(cells: Cells, readings: Readings, mine: NDArray[np.bool_]) -> Floats:
    heat = cells.code("heat").astype(np.int64)
    dated = bool((readings.day[mine] > 0).all()) and bool((cells.day > 0).all())
    wide = int(max(heat.max(initial=0), readings.heat.max(initial=0))) + 2
    here = heat + (cells.day.astype(np.int64) * wide if dated else 0)
    there = readings.heat[mine] + (readings.day[mine].astype(np.int64) * wide if dated else 0)
    known = readings.heat[mine] >= 0
    keys, inverse = np.unique(there[known], return_inverse=True)
    if not len(keys):
        return np.full(len(heat), np.nan)
    sums = np.bincount(inverse, weights=readings.value[mine][known])
    means = sums / np.bincount(inverse)
    place = np.clip(np.searchsorted(keys, here), 0, len(keys) - 1)
    return np.where((keys[place] == here) & (heat >= 0), means[place], np.nan)


def _by_time(cells: Cells, readings: Readings, mine: NDArray[np.bool_], lag: int) -> Floats:
    import pyarrow as pa

    poured = moments(cells.day, cells.minute, NOON)
    taken = moments(readings.day[mine], readings.minute[mine], 0.0)
    dated, known = np.flatnonzero(cells.day > 0), readings.day[mine] > 0
    found = np.full(len(cells.day), np.nan)
    with engine() as running:
        pourings = running.put("pourings", pa.table({"cell": dated, "moment": poured[dated]}))
        values = pa.table({"moment": taken[known], "value": readings.value[mine][known]})
        table = running.run(expressions.before(pourings, running.put("readings", values), lag))
    found[table["cell"].to_numpy()] = table["value"].to_numpy()
    order = np.sort(taken[known])
    last = np.searchsorted(order, poured, side="right") - 1
    stale = (last < 0) | (poured - order[np.clip(last, 0, None)] > FRESH) if len(order) else True
    return np.where(stale, np.nan, found)


def moments(day: NDArray[np.int32], minute: Floats, without: float) -> Floats:
    """Return minutes since the first day of the calendar; ``without``: the minute if not known."""
    return np.asarray(day * DAY + np.where(np.isnan(minute), without, minute))
