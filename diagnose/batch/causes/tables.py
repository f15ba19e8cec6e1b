"""A sheet's cells counted by one factor, its patterns and its heats allowed for."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from diagnose.batch.causes.counts import apart, standardised
from diagnose.batch.causes.group import Course, Sorting
from diagnose.engine.cliquetree import Floats, Ints

FEWEST_CLUSTERS = 6
"""Heats from which their spread can be told at all."""


class Cells(Protocol):
    """Castings counted by factors: see ``diagnose.batch.reading.data.Cells``."""

    @property
    def factors(self) -> tuple[str, ...]:
        """By what they are counted."""

    @property
    def day(self) -> NDArray[np.int32]:
        """Ordinal of the date, 0 where it is not known."""

    @property
    def bad(self) -> Floats:
        """Cell by fault, expected castings."""

    @property
    def poured(self) -> Floats | None:
        """Castings poured, good and bad."""

    def code(self, factor: str) -> NDArray[np.int32]:
        """Return the level of one factor in each cell, -1 where it is not known."""


@dataclass(frozen=True, slots=True)
class Counts:
    """Cells of one fault, ready to be sorted.

    ``bad``, ``size``: by cell. ``pattern`` and ``cluster`` (heat, or else day): codes, -1 where
    not known. Where nothing was said of castings poured, ``size`` is all scrap of the cell.
    """

    bad: Floats
    size: Floats
    pattern: Ints
    cluster: Ints
    of_scrap: bool = False

    def only(self, mask: NDArray[np.bool_]) -> Counts:
        """Return the counts of some cells, the others empty."""
        return replace(self, bad=np.where(mask, self.bad, 0.0), size=np.where(mask, self.size, 0.0))


def counts_of(cells: Cells, fault: int) -> Counts:
    """Return the counts of a fault in the cells of a sheet."""
    none = np.full(len(cells.day), -1, dtype=np.intp)
    pattern = cells.code("pattern").astype(np.intp) if "pattern" in cells.factors else none
    heat = cells.code("heat").astype(np.intp) if "heat" in cells.factors else none
    days = np.unique(cells.day, return_inverse=True)[1].reshape(-1)
    cluster = heat if (heat >= 0).any() else np.where(cells.day > 0, days, -1)
    size = cells.bad.sum(axis=1) if cells.poured is None else cells.poured
    sizes = np.asarray(size, dtype=np.float64)
    return Counts(cells.bad[:, fault], sizes, pattern, cluster, cells.poured is None)


def sorting(counts: Counts, factor: str, codes: Ints, names: tuple[str, ...]) -> Sorting | None:
    """Return the fault sorted by one factor; None where fewer than two levels made anything.

    Cells whose level is not known are left out. Sizes allow for what each pattern suffers
    anywhere, unless the pattern is the factor.
    """
    known = (codes >= 0) & (counts.size > 0.0)
    if len(np.unique(codes[known])) < 2:
        return None
    patterns = np.zeros_like(codes) if factor == "pattern" else counts.pattern
    pairs, place = np.unique(np.stack([codes[known], patterns[known]]), axis=1, return_inverse=True)
    place = place.reshape(-1)
    bad = np.bincount(place, counts.bad[known]).tolist()
    size = np.bincount(place, counts.size[known]).tolist()
    levels = standardised([
        (names[level], str(pattern), some, of)
        for (level, pattern), some, of in zip(pairs.T.tolist(), bad, size, strict=True)
    ])  # fmt: skip
    found = Sorting(factor, levels, of_scrap=counts.of_scrap)
    best = max(levels, key=lambda level: apart(level, levels))
    return replace(found, spread=spread_at(counts, codes == names.index(best.name), known))


def spread_at(counts: Counts, here: NDArray[np.bool_], known: NDArray[np.bool_]) -> float:
    """Return the variance between heats of how a level stands out, over that of chance alone.

    The score of a level is its bad castings less its share of all of them; each heat adds its own
    piece. What a piece varies around is fitted with one rate at the level and another elsewhere,
    so that a true difference is not taken for spread.
    """
    some = known & (counts.cluster >= 0)
    at, rest = some & here, some & ~here
    clusters = int(counts.cluster[some].max()) + 1 if some.any() else 0

    def summed(values: Floats, mask: NDArray[np.bool_]) -> Floats:
        return np.bincount(counts.cluster[mask], values[mask], clusters).astype(np.float64)

    bad, size = (
        (summed(counts.bad, at), summed(counts.bad, rest)),
        (
            summed(counts.size, at),
            summed(counts.size, rest),
        ),
    )
    if np.count_nonzero(size[0] + size[1]) < FEWEST_CLUSTERS or not all(s.sum() for s in size):
        return 1.0
    share = size[0].sum() / (size[0].sum() + size[1].sum())
    weights = (1.0 - share, -share)
    expected = [b.sum() / s.sum() * s for b, s in zip(bad, size, strict=True)]
    left = sum(w * (b - e) for w, b, e in zip(weights, bad, expected, strict=True))
    chance = sum(w * w * e.sum() for w, e in zip(weights, expected, strict=True))
    return max(1.0, float((np.asarray(left) ** 2).sum() / chance)) if chance > 0.0 else 1.0


def course(counts: Counts, day: NDArray[np.int32]) -> Course | None:
    """Return the fault day by day; None where fewer than four days are known.

    The spread is that between neighbouring days, so that a step in the rate is not taken for it.
    """
    known = (day > 0) & (counts.size > 0.0)
    days, place = np.unique(day[known], return_inverse=True)
    if len(days) < 4:
        return None
    place = place.reshape(-1)
    bad = np.bincount(place, counts.bad[known]).astype(np.float64)
    size = np.bincount(place, counts.size[known]).astype(np.float64)
    return Course(tuple(bad.tolist()), tuple(size.tolist()), spread_in_time(bad, size))


def spread_in_time(bad: Floats, size: Floats) -> float:
    """Return the variance between neighbouring days over that of chance alone, at least 1."""
    rate = bad / size
    overall = bad.sum() / size.sum()
    if overall <= 0.0:
        return 1.0
    chance = overall * (1.0 / size[1:] + 1.0 / size[:-1])
    return max(1.0, float((np.diff(rate) ** 2 / chance).mean()))
