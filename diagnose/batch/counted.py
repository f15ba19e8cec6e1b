"""What was read, as the statistics take it: cells with their factors, series of time, readings.

Where nobody said how many castings were poured, all castings scrapped stand in their place: what
is then told is which share of the scrap a fault has, not its rate.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

import numpy as np

from diagnose.batch.reading.data import UNKNOWN, BatchData
from diagnose.batch.reading.data import Cells as Read
from diagnose.batch.statistics.cells import Cells, Factor, Floats, Ints, counted, grouped
from diagnose.batch.statistics.charts import FEWEST as LEAST_POINTS
from diagnose.batch.statistics.charts import Series
from diagnose.batch.statistics.movement import Reading
from diagnose.rulebase.book import Book

FEWEST = 5.0
"""Castings of a fault from which it is tested at all: common practice, no source."""
EACH = 3.0
"""Castings of a fault that a point of a chart should hold on the average: below, weeks are taken
for days, and months for weeks. Common practice, no source."""
MOST_POINTS = 130
"""Points of one chart; with more, the next longer time is taken."""
ORDERED = ("ladle order", "hour", "box after a stop")
WITHIN_PATTERN = ("plate", "impression")
"""Factors whose numbers may begin anew with each pattern."""
SHARED = ("pattern", "heat")
"""Factors that are allowed for in every test, and no places to be blamed."""
WET = 1.0
"""Rain in mm from which a day, and the day after it, are wet: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Counted:
    """A batch ready for its tests. ``rated``: the castings poured are known.

    ``heats``: for each cell the place of its heat in the order of pouring (of its day where no
    heats are known); ``tested``: places of the faults that are common enough, in the sheet's list.
    """

    data: BatchData
    read: Read
    cells: Cells
    heats: Ints
    tested: tuple[int, ...]
    rated: bool


def counted_from(data: BatchData) -> Counted:
    """Return a batch ready for its tests."""
    rated = data.cells.poured is not None
    read = data.cells if rated else data.scrap
    scrapped = data.scrap.bad.sum(axis=0)
    tested = tuple(
        at for at, fault in enumerate(data.faults) if fault != UNKNOWN and scrapped[at] >= FEWEST
    )
    poured = read.poured if read.poured is not None else read.scrapped
    heats = _heats(read)
    pattern = _code(read, "pattern")
    cells = Cells(
        tuple(data.faults[at] for at in tested),
        np.asarray(read.bad[:, list(tested)], dtype=float),
        np.maximum(np.asarray(poured, dtype=float), read.bad.sum(axis=1)),
        pattern,
        heats,
        tuple(_factors(data, read)),
    )
    return Counted(data, read, cells, heats, tested, rated)


def _code(read: Read, factor: str) -> Ints:
    if factor in read.factors:
        return read.code(factor).astype(np.int64)
    return np.zeros(len(read.day), dtype=np.int64)


def _heats(read: Read) -> Ints:
    """Return for each cell the place of its heat in order of time; of its day without heats."""
    heat = _code(read, "heat") if "heat" in read.factors else np.full(len(read.day), -1)
    minute = np.nan_to_num(read.minute, nan=0.0)
    start: dict[tuple[int, int], float] = {}
    keys = list(zip(read.day.tolist(), heat.tolist(), strict=True))
    for key, at in zip(keys, minute.tolist(), strict=True):
        start[key] = min(at, start.get(key, at))
    order = sorted(start, key=lambda key: (key[0], start[key], key[1]))
    place = {key: at for at, key in enumerate(order)}
    return np.array([place[key] for key in keys], dtype=np.int64)


def _factors(data: BatchData, read: Read) -> Iterator[Factor]:
    for name in read.factors:
        if name in SHARED:
            continue
        codes, levels = read.code(name).astype(np.int64), data.levels[name]
        if name in WITHIN_PATTERN and "pattern" in read.factors:
            codes, levels = _within(codes, levels, _code(read, "pattern"), data.levels["pattern"])
        yield Factor(name, levels, codes, ordered=name in ORDERED)
    if "pattern" in read.factors:
        codes = read.code("pattern").astype(np.int64)
        yield Factor("pattern", data.levels["pattern"], codes, stratified=False)
    yield from _weather(data, read)


def _within(
    codes: Ints, levels: tuple[str, ...], pattern: Ints, patterns: tuple[str, ...]
) -> tuple[Ints, tuple[str, ...]]:
    """Return plates as plates of their pattern, where one number stands for several of them."""
    known = (codes >= 0) & (pattern >= 0)
    both = np.where(known, pattern * len(levels) + codes, -1)
    used = np.unique(both[known])
    if len(used) == len(np.unique(codes[known])):
        return codes, levels
    names = tuple(f"{levels[at % len(levels)]} of {patterns[at // len(levels)]}" for at in used)
    return np.where(known, np.searchsorted(used, both), -1), names


def _weather(data: BatchData, read: Read) -> Iterator[Factor]:
    """Yield wet and dry days, where rain stands among the readings."""
    readings = data.readings
    if readings is None:
        return
    rain = [at for at, name in enumerate(readings.quantities) if "rain" in name.casefold()]
    if not rain:
        return
    fell = np.isin(readings.quantity, rain) & (readings.value >= WET)
    wet = {int(day) + after for day in readings.day[fell] for after in (0, 1)}
    known = {int(day) for day in readings.day[np.isin(readings.quantity, rain)]}
    days = read.day.tolist()
    codes = [1 if day in wet else 0 if day in known else -1 for day in days]
    yield Factor("weather", ("dry", "after rain"), np.array(codes, dtype=np.int64))


def days_of(one: Counted) -> tuple[list[date], Floats, Floats]:
    """Return the days in order, with bad castings (day by tested fault) and castings poured."""
    dated = one.read.day > 0
    found, key = np.unique(one.read.day[dated], return_inverse=True)
    key = key.astype(np.int64)
    bad = grouped(key, len(found), one.cells.bad[dated])
    size = counted(key, len(found), one.cells.poured[dated])
    return [date.fromordinal(int(day)) for day in found], bad, size


def series_of(one: Counted, book: Book) -> list[Series]:
    """Return what is charted: all scrap (where rates are known), and every common fault."""
    dated = one.read.day > 0
    if not dated.any():
        return []
    found: list[Series] = []
    day = one.read.day[dated].astype(np.int64)
    poured = one.cells.poured[dated]
    kind: Literal["p", "shares"] = "p" if one.rated else "shares"
    if one.rated:
        found.append(_series("all scrap", "", day, one.read.scrapped[dated], poured, kind))
    order = np.argsort(-one.cells.bad.sum(axis=0), kind="stable")
    for at in order.tolist():
        fault = one.cells.faults[at]
        name = book.defects[fault].name if fault in book.defects else fault
        found.append(_series(name, fault, day, one.cells.bad[dated, at], poured, kind))
    return found


def _series(
    name: str, defect: str, day: Ints, bad: Floats, poured: Floats, kind: Literal["p", "shares"]
) -> Series:
    """Return a series by day, or by week or month where a day holds too few castings of it.

    Longer times are taken only where they leave enough points for a chart.
    """
    places, key = np.unique(day, return_inverse=True)
    for start in (_monday, _first):
        if bad.sum() / len(places) >= EACH and len(places) <= MOST_POINTS:
            break
        begun = np.array([start(each) for each in day.tolist()], dtype=np.int64)
        longer, own = np.unique(begun, return_inverse=True)
        if len(longer) < LEAST_POINTS:
            break
        places, key = longer, own
    key = key.astype(np.int64)
    at = tuple(date.fromordinal(int(each)).isoformat() for each in places)
    count, size = counted(key, len(places), bad), counted(key, len(places), poured)
    return Series(name, defect, at, count, size, kind)


def _monday(day: int) -> int:
    when = date.fromordinal(day)
    return (when - timedelta(days=when.weekday())).toordinal()


def _first(day: int) -> int:
    return date.fromordinal(day).replace(day=1).toordinal()


def readings_of(one: Counted) -> list[Reading]:
    """Return the readings by heat (by day without heats), in the order of pouring."""
    readings = one.data.readings
    if readings is None:
        return []
    return [*_by_heat(one, readings.quantities, readings.names, readings.units)]


def _by_heat(
    one: Counted, quantities: Sequence[str], names: Sequence[str], units: Sequence[str]
) -> Iterator[Reading]:
    heats = int(one.heats.max(initial=-1)) + 1
    for quantity, name, unit in zip(quantities, names, units, strict=True):
        values = one.data.reading_of(one.read, quantity)
        known = np.isfinite(values)
        if not known.any():
            continue
        sums = np.bincount(one.heats[known], weights=values[known], minlength=heats)
        count = np.bincount(one.heats[known], minlength=heats)
        mean = np.where(count > 0, sums / np.maximum(count, 1), np.nan)
        yield Reading(quantity, name, unit, mean)
