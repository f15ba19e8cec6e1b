"""A made-up sheet as the reader of sheets hands it on, with what is planted in it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from types import SimpleNamespace
from typing import Any

import numpy as np

FACTORS = ("pattern", "heat", "ladle order", "plate", "moulder", "core maker")
Rates = Callable[["Moulds", str], np.ndarray]


@dataclass(frozen=True, slots=True)
class Moulds:
    """Every casting of a made-up month: a row of codes by FACTORS, and the day."""

    codes: np.ndarray
    day: np.ndarray

    def of(self, factor: str) -> np.ndarray:
        return np.asarray(self.codes[:, FACTORS.index(factor)])


@dataclass(frozen=True)
class Cells:
    """As ``diagnose.batch.reading.data.Cells``, of which it has what is needed here."""

    factors: tuple[str, ...]
    codes: np.ndarray
    day: np.ndarray
    bad: np.ndarray
    poured: np.ndarray | None = None

    def code(self, factor: str) -> np.ndarray:
        return np.asarray(self.codes[:, self.factors.index(factor)])


@dataclass(frozen=True)
class Made:
    """As ``BatchData``."""

    faults: tuple[str, ...]
    factors: tuple[str, ...]
    levels: dict[str, tuple[str, ...]]
    cells: Any
    scrap: Any
    lines: Any
    words: tuple[Any, ...] = ()
    remarks: tuple[Any, ...] = ()
    readings: Any = None
    rates: dict[str, float] = field(default_factory=dict)


def moulds(draw: np.random.Generator, days: int = 20) -> Moulds:
    """Return ``days`` of two heats with 24 castings each, poured eight to a ladle."""
    first = date(2024, 3, 4).toordinal()
    rows, when = [], []
    for day in range(days):
        for heat in (2 * day, 2 * day + 1):
            for mould in range(24):
                rows.append([draw.integers(2), heat, mould % 8, draw.integers(4),
                             draw.integers(3), draw.integers(3)])  # fmt: skip
                when.append(first + day)
    return Moulds(np.array(rows, dtype=np.int32), np.array(when, dtype=np.int32))


def sheet(
    made: Moulds,
    chances: dict[str, np.ndarray],
    draw: np.random.Generator,
    unknown_when_poured: tuple[str, ...] = (),
) -> Made:
    """Return the sheet of these moulds; ``chances``: fault -> chance of each casting."""
    faults = tuple(chances)
    bad = np.array([draw.random(len(made.day)) < chance for chance in chances.values()])
    bad = (bad & (np.cumsum(bad, axis=0) == 1)).T.astype(float)
    levels = {name: tuple(str(k + 1) for k in range(made.of(name).max() + 1)) for name in FACTORS}
    known = [name not in unknown_when_poured for name in FACTORS]
    names = tuple(name for name in FACTORS if name not in unknown_when_poured)
    spoilt = bad.sum(axis=1) > 0.0
    codes = made.codes[spoilt]
    lines = SimpleNamespace(
        factors=FACTORS,
        codes=codes,
        day=made.day[spoilt],
        word=bad[spoilt].argmax(axis=1).astype(np.int32),
        remark=np.full(len(codes), -1, dtype=np.int32),
        castings=np.ones(len(codes)),
    )
    return Made(
        faults,
        FACTORS,
        levels,
        Cells(names, made.codes[:, known], made.day, bad, np.ones(len(made.day))),
        Cells(FACTORS, codes, made.day[spoilt], bad[spoilt]),
        lines,
        tuple(SimpleNamespace(text=f, faults=((f, 1.0),)) for f in faults),
    )
