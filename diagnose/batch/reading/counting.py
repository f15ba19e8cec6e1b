"""From lines to cells: the castings of each fault, and those poured, by the engine of tables."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from diagnose.batch.reading.data import Arrays, Cells, Codes
from diagnose.batch.tables import expressions
from diagnose.batch.tables.engine import Engine

MOST = 40_000_000
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
    kept = list(factors)
    left: list[str] = []
    while True:
        by = ["day", *map(named, kept)]
        lost = engine.run(expressions.bad(scrap, words, by))
        made = engine.run(expressions.made(poured, by)) if poured is not None else None
        size = lost.num_rows + (made.num_rows if made is not None else 0)
        if size * faults <= MOST or not kept:
            return _cells(kept, faults, lost, made), tuple(left)
        finest = max(kept, key=lambda factor: _levels(scrap, factor))
        kept.remove(finest)
        left.append(finest)


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
    cells, place = np.unique(keys, axis=0, return_inverse=True)
    place = place.ravel()
    here, there = place[: lost.num_rows], place[lost.num_rows :]
    minute = np.full(len(cells), np.inf)
    np.fmin.at(minute, here, lost["minute"].to_numpy())
    amounts = []
    fault = lost["fault"].to_numpy()
    for name in AMOUNTS:
        table = np.zeros((len(cells), faults))
        np.add.at(table, (here, fault), lost[name].to_numpy())
        amounts.append(table)
    poured = None
    if made is not None:
        weights = made["made"].to_numpy()
        poured = np.bincount(there, weights, len(cells)).astype(np.float64)
        np.fmin.at(minute, there, made["minute"].to_numpy())
    minute[np.isinf(minute)] = np.nan
    codes, day = cells[:, 1:], cells[:, 0]
    return Cells(tuple(factors), codes, day, minute, amounts[0], amounts[1], amounts[2], poured)
