"""From lines to cells: the castings of each fault, and those poured, by the engine of tables."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from diagnose.batch.reading.data import Arrays, Cells, Codes, Floats, Places
from diagnose.batch.tables import expressions
from diagnose.batch.tables.engine import Engine

MOST = 10_000_000
"""Numbers of the table cells by faults that are held in memory; beyond, a factor is left out."""
AMOUNTS = ("castings", "weight", "cost")


def put_words(engine: Engine, shares: Sequence[Sequence[tuple[int, float]]]) -> Any:
    """Make known to the engine which word means which faults. ``shares``: by the word's number."""
    import pyarrow as pa

    rows = [(word, fault, share) for word, of in enumerate(shares) for fault, share in of]
    table = pa.table(
        {
            "word": pa.array([row[0] for row in rows], pa.int32()),
            "fault": pa.array([row[1] for row in rows], pa.int32()),
            "share": pa.array([row[2] for row in rows], pa.float64()),
        }
    )
    return engine.put("words", table)


def put(engine: Engine, name: str, arrays: Arrays, columns: Sequence[str]) -> Any:
    """Make columns of arrays known to the engine; what is nan counts for nothing in a sum."""
    import pyarrow as pa

    table = {}
    for column in columns:
        values = arrays[column]
        values = np.nan_to_num(values) if column in AMOUNTS else values
        table[named(column)] = pa.array(values)
    return engine.put(name, pa.table(table))


def named(factor: str) -> str:
    """Return the name of a factor's column: without spaces, so that every engine takes it."""
    return factor.replace(" ", "_")


def cells_of(
    engine: Engine, scrap: Any, words: Any, factors: Sequence[str], faults: int,
    poured: Any = None,
) -> tuple[Cells, tuple[str, ...]]:  # fmt: skip
    """Return the cells over factors, and the factors left out, as there were too many cells.

    ``poured``: the table of castings poured, which has all of the factors; None without one.
    """
    kept, left = _fitting(scrap, factors, faults)
    by = ["day", *map(named, kept)]
    lost = engine.run(expressions.bad(scrap, words, by))
    made = engine.run(expressions.made(poured, by)) if poured is not None else None
    return _cells(kept, faults, lost, made), tuple(left)


def _fitting(scrap: Any, factors: Sequence[str], faults: int) -> tuple[list[str], list[str]]:
    """Return the factors by which there are not too many cells, and those left out: the finest."""
    kept = list(factors)
    left: list[str] = []
    if _count(scrap) * faults <= MOST:
        return kept, left
    levels = {factor: _levels(scrap, factor) for factor in factors}
    while kept and _count(scrap.select("day", *map(named, kept)).distinct()) * faults > MOST:
        finest = max(kept, key=lambda factor: levels[factor])
        kept.remove(finest)
        left.append(finest)
    return kept, left


def _count(table: Any) -> int:
    return int(table.count().to_pyarrow().as_py())


def _levels(scrap: Any, factor: str) -> int:
    return int(scrap[named(factor)].nunique().to_pyarrow().as_py())


def _keys(table: Any, factors: Sequence[str]) -> Codes:
    columns = [table[name].to_numpy() for name in ("day", *map(named, factors))]
    return np.column_stack(columns).astype(np.int32).reshape(table.num_rows, len(factors) + 1)


def _cells(factors: Sequence[str], faults: int, lost: Any, made: Any) -> Cells:
    """Return cells out of the answers of the engine."""
    keys = _keys(lost, factors)
    if made is not None:
        keys = np.concatenate([keys, _keys(made, factors)])
    first, place = numbered(list(keys.T))
    size = len(first)
    here, there = place[: lost.num_rows], place[lost.num_rows :]
    earliest = np.full(size, np.inf)
    _lower(earliest, here, lost["minute"].to_numpy())
    spot = here * faults + lost["fault"].to_numpy()
    bad, weight, cost = (_table(spot, lost[name].to_numpy(), size, faults) for name in AMOUNTS)
    poured = None
    if made is not None:
        poured = np.bincount(there, made["made"].to_numpy(), size).astype(np.float64)
        _lower(earliest, there, made["minute"].to_numpy())
    earliest[np.isinf(earliest)] = np.nan
    cells = keys[first]
    codes, day = cells[:, 1:], cells[:, 0]
    bad = np.zeros((size, faults)) if bad is None else bad
    return Cells(tuple(factors), codes, day, earliest, bad, weight, cost, poured)


def _table(spot: Places, values: Floats, cells: int, faults: int) -> Floats | None:
    """Return values by cell and fault; None where there is nothing at all."""
    if not values.any():
        return None
    table = np.bincount(spot, values, cells * faults).astype(np.float64, copy=False)
    return table.reshape(cells, faults)


def _lower(earliest: Floats, place: Places, minute: Floats) -> None:
    np.minimum.at(earliest, place, np.where(np.isnan(minute), np.inf, minute))


def numbered(columns: Sequence[NDArray[np.integer[Any]]]) -> tuple[Places, Places]:
    """Return the place of the first entry of each different row, in order, and the row of each.

    >>> first, row = numbered([np.array([2, 1, 2, 1]), np.array([0, 5, 0, 6])])
    >>> first.tolist(), row.tolist()
    ([1, 3, 0], [2, 0, 2, 1])
    """
    number = np.zeros(len(columns[0]), dtype=np.int64)
    room = 1
    for values in columns:
        least = int(values.min(initial=0))
        span = int(values.max(initial=0)) - least + 1
        if room * span >= 2**62:
            _, number = np.unique(number, return_inverse=True)
            room = int(number.max(initial=0)) + 1
        number = number * span + (values.astype(np.int64) - least)
        room *= span
    _, first, row = np.unique(number, return_index=True, return_inverse=True)
    return first, row
