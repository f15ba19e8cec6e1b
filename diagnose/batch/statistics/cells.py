"""What the tests of a batch start from: rows of castings poured and scrapped, and what is known.

A row is a group of castings that share everything that the sheet knows of them: a box, a heat, a
day of one pattern. Unknown levels are coded -1; a row without a level is left out of the tests of
that factor and of no other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from diagnose.basics.errors import Fault

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

UNKNOWN = -1


@dataclass(frozen=True, slots=True)
class Factor:
    """Something that castings differ in: plate, moulder, hour, order in the ladle.

    ``codes``: the level of each row, ``UNKNOWN`` where it is not known. ``ordered``: the levels
    have an order, so that "from here on" is tested at every cut. ``stratified``: compared within
    patterns; false for the pattern itself and for what never differs within one.
    """

    name: str
    levels: tuple[str, ...]
    codes: Ints
    ordered: bool = False
    stratified: bool = True


@dataclass(frozen=True, slots=True)
class Cells:
    """The rows of a batch: ``bad`` is rows by faults, ``poured`` castings of each row.

    ``bad`` may hold fractions, where a word could mean two faults. ``stratum``: code of the
    pattern. ``heat``: code of what castings share by chance, a heat or a ladle; any day or box
    will do; where nothing is known of it each row is its own.
    """

    faults: tuple[str, ...]
    bad: Floats
    poured: Floats
    stratum: Ints
    heat: Ints
    factors: tuple[Factor, ...] = field(default=())

    def __post_init__(self) -> None:
        """Refuse arrays that do not belong together."""
        rows = self.poured.shape[0]
        if self.bad.shape != (rows, len(self.faults)):
            raise Fault(f"castings scrapped: {self.bad.shape} numbers for {rows} rows")
        lengths = {len(self.stratum), len(self.heat), *(len(x.codes) for x in self.factors)}
        if lengths != {rows}:
            raise Fault(f"codes of patterns, heats and factors: not all of {rows} rows")

    def only(self, keep: Bools) -> Cells:
        """Return the rows to keep."""
        factors = tuple(
            Factor(x.name, x.levels, x.codes[keep], x.ordered, x.stratified) for x in self.factors
        )
        parts = (self.bad[keep], self.poured[keep], self.stratum[keep], self.heat[keep])
        return Cells(self.faults, *parts, factors)


def coded(values: Sequence[Any]) -> tuple[tuple[str, ...], Ints]:
    """Return the levels of a column and the code of each row; empty values are unknown.

    Numbers are sorted as numbers, everything else as text.

    >>> coded(["B", None, "A", "B"])
    (('A', 'B'), array([ 1, -1,  0,  1]))
    """
    seen = {x for x in values if x is not None and x != ""}
    numbers = all(isinstance(x, int | float) for x in seen)
    order = sorted(seen, key=None if numbers else str)
    place = {x: i for i, x in enumerate(order)}
    codes = np.array([place.get(x, UNKNOWN) for x in values], dtype=np.int64)
    return tuple(f"{x:g}" if numbers else str(x) for x in order), codes


def factor(
    name: str, values: Sequence[Any], *, ordered: bool = False, stratified: bool = True
) -> Factor:
    """Return a column of a sheet as a factor."""
    levels, codes = coded(values)
    return Factor(name, levels, codes, ordered, stratified)


def banded(name: str, values: Floats, bands: int = 5) -> Factor:
    """Return a column of numbers as an ordered factor of about equally full bands."""
    known = np.isfinite(values)
    edges = np.unique(np.quantile(values[known], np.linspace(0, 1, bands + 1)[1:-1]))
    edges = edges[edges > values[known].min()]
    codes = np.where(known, np.searchsorted(edges, values, side="right"), UNKNOWN)
    starts = [values[known].min(), *edges]
    return Factor(name, tuple(f"{x:g}" for x in starts), codes.astype(np.int64), ordered=True)


def since_stop(minutes: Floats, gap: float, longest: int = 6) -> Ints:
    """Return how many boxes were poured since a stop of at least ``gap`` minutes, the box included.

    ``minutes``: when each box was poured, in order; 1 is the first box after a stop, and also the
    first of all. From ``longest`` on all count alike.
    """
    starts = np.concatenate([[True], np.diff(minutes) >= gap])
    last = np.maximum.accumulate(np.where(starts, np.arange(len(minutes)), 0))
    return np.minimum(np.arange(len(minutes)) - last + 1, longest).astype(np.int64)


def compact(codes: Ints) -> Ints:
    """Return the codes renumbered from 0 without gaps; every unknown is a group of its own."""
    unknown = codes < 0
    fresh = codes.max(initial=0) + 1 + np.arange(int(unknown.sum()))
    own = codes.copy()
    own[unknown] = fresh
    return np.unique(own, return_inverse=True)[1].astype(np.int64)


def grouped(key: Ints, groups: int, values: Floats) -> Floats:
    """Return the sums of the columns of ``values`` over the rows of each group."""
    sums = [counted(key, groups, column) for column in values.T]
    found: Floats = np.array(sums, dtype=float).reshape(values.shape[1], groups).T
    return found


def counted(key: Ints, groups: int, values: Floats) -> Floats:
    """Return the sum of ``values`` over the rows of each group."""
    return np.bincount(key, weights=values, minlength=groups).astype(float)
