"""What the shape of a network and its figures come to, laid out for sums; kept between runs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from diagnose.engine.cliquetree import (
    Floats,
    Forest,
    Ints,
    Shape,
    Tables,
    alone,
    axes_of,
    lay_out,
    placed,
)
from diagnose.engine.network import Basis, Figures, Network, Scribe
from diagnose.engine.ragged import Arrays, Padded, cut, end_to_end, joined, narrow, padded, tuples
from diagnose.engine.triangulate import Clique, clique_tree, elimination_order

MERGE_UP_TO = 5
"""Cliques are merged while they hold no more variables than this (measured: docs/speed.md)."""


@dataclass(frozen=True, slots=True)
class Seat:
    """Where a finding is laid on.

    ``axes``: 2 for each variable of the clique that the finding depends on, else 1. ``basis``:
    its four basic functions (..., 4, joint states of these variables).
    """

    clique: int
    axes: Shape
    basis: Floats

    def likelihood(self, weights: Sequence[float]) -> Floats:
        """Return the finding with the axes of the clique and one row."""
        flat = np.asarray(weights) @ self.basis
        return np.asarray(flat.reshape(*flat.shape[:-1], *self.axes, 1))

    @property
    def held(self) -> tuple[int, ...]:
        """The places of the finding's variables in the clique."""
        return tuple(axis for axis, size in enumerate(self.axes) if size == 2)

    def expected(self, joint: Floats) -> Floats:
        """Return E[basis | pattern], given the joint weight of the finding's variables.

        ``joint``: see ``FromAbove.joint``. Shape (4, rows of the tree's root).
        """
        sums = self.basis @ joint.reshape(self.basis.shape[-1], -1)
        return np.asarray(sums / np.where(sums[0] > 0.0, sums[0], 1.0))


@dataclass(frozen=True, slots=True)
class Frame:
    """A network laid out.

    ``patterns``: how many distinct ones the accounts set. ``ancestors``: of each finding, as bits.
    """

    patterns: int
    pattern_of_account: Ints
    forest: Forest
    tables: Tables
    seats: tuple[Seat, ...]
    ancestors: tuple[int, ...]


def framed(network: Network, figures: Figures) -> Frame:
    """Lay a network out."""
    scribe = Scribe(network, figures)
    scopes = [factor.scope for factor in scribe.factors]
    order = elimination_order(scopes, scribe.variables)
    patterns, pattern_of_account = account_patterns(network, scribe)
    forest = lay_out(clique_tree(scopes, order, MERGE_UP_TO), scribe.factors, patterns)
    tables = Tables(forest, alone(forest, scribe.factors, patterns))
    seats = tuple(seat(basis, forest) for basis in scribe.bases)
    return Frame(
        len(patterns), pattern_of_account, forest, tables, seats, tuple(network.ancestors())
    )


def account_patterns(network: Network, scribe: Scribe) -> tuple[NDArray[np.bool_], Ints]:
    """Return the distinct patterns (patterns x variables) and the pattern of each account."""
    sets = network.sets.table if isinstance(network.sets, Padded) else padded(network.sets)
    present = np.zeros((len(sets), network.conditions + 1), dtype=np.bool_)
    present[np.arange(len(sets))[:, None], sets] = True  # what fills up goes to the last column
    full = np.zeros((len(sets), scribe.variables), dtype=np.bool_)
    full[:, : len(scribe.observable)] = present[:, scribe.observable]
    _, first, inverse = np.unique(
        np.packbits(full, axis=1), axis=0, return_index=True, return_inverse=True
    )
    return full[first], inverse.reshape(-1).astype(np.intp)


def seat(basis: Basis, forest: Forest) -> Seat:
    """Seat a finding in the lowest clique that holds its scope."""
    k = forest.clique_holding(basis.scope)
    clique = forest.places[k].clique
    held = [basis.scope.index(v) for v in clique.variables if v in basis.scope]
    lead = basis.table.shape[:-1]
    table = basis.table.reshape(*lead, *[2] * len(held))
    table = table.transpose(*range(len(lead)), *(len(lead) + axis for axis in held))
    return Seat(k, axes_of(clique, basis.scope), np.ascontiguousarray(table.reshape(*lead, -1)))


FRAME_LIKE = {
    "clique variables": "i *", "clique sizes": "i cliques", "clique separators": "i cliques",
    "clique parents": "i cliques", "rows": "i cliques patterns", "representatives": "i *",
    "homes": "i variables", "alone": "f *", "messages": "f *", "pattern of account": "i all",
    "seat cliques": "i findings", "seat axes": "i *", "bases": "f *",
    "ancestors": "u findings bytes",
}  # fmt: skip
"""The arrays of a frame: kind of number and what each axis counts."""


def frame_arrays(frame: Frame) -> dict[str, NDArray[Any]]:
    """Return a frame with one set of figures as plain arrays."""
    places, seats = frame.forest.places, frame.seats
    variables, sizes = joined(place.clique.variables for place in places)
    width = max(1, (max((bits.bit_length() for bits in frame.ancestors), default=0) + 7) // 8)
    ancestors = b"".join(bits.to_bytes(width, "little") for bits in frame.ancestors)
    return {
        "clique variables": variables,
        "clique sizes": sizes,
        "clique separators": np.array([p.clique.separator for p in places], np.int32),
        "clique parents": np.array([p.clique.parent for p in places], np.int32),
        "rows": narrow(np.array([p.pattern_of for p in places]).reshape(-1, frame.patterns)),
        "representatives": joined(p.representative.tolist() for p in places)[0],
        "homes": np.array(frame.forest.home, np.int32),
        "alone": end_to_end(frame.tables.alone),
        "messages": end_to_end(frame.tables.messages),
        "pattern of account": narrow(frame.pattern_of_account),
        "seat cliques": np.array([one.clique for one in seats], np.int32),
        "seat axes": joined(one.axes for one in seats)[0],
        "bases": end_to_end([one.basis for one in seats]),
        "ancestors": np.frombuffer(ancestors, np.uint8).reshape(-1, width),
    }


def frame_from(arrays: Arrays) -> Frame:
    """Return the frame that plain arrays hold.

    Raises ValueError or LookupError where they do not hold one.
    """
    variables = tuples(arrays["clique variables"], arrays["clique sizes"])
    cliques = [
        Clique(*one)
        for one in zip(
            variables, arrays["clique separators"].tolist(), arrays["clique parents"].tolist(),
            strict=True,
        )
    ]  # fmt: skip
    if sum(len(c.variables) - c.separator for c in cliques) != len(arrays["homes"]):
        raise ValueError("a variable without a home")
    rows = arrays["rows"].astype(np.intp)
    counts = rows.max(axis=1) + 1 if rows.size else rows.sum(axis=1)
    firsts = np.split(arrays["representatives"].astype(np.intp), np.cumsum(counts)[:-1])
    forest = placed(cliques, arrays["homes"].tolist(), rows, firsts)
    tables = Tables(
        forest,
        cut(arrays["alone"], [(*[2] * len(p.clique.variables), p.rows) for p in forest.places]),
        cut(arrays["messages"], [(p.kept, p.rows) for p in forest.places]),
    )
    return Frame(
        rows.shape[1],
        arrays["pattern of account"].astype(np.intp),
        forest,
        tables,
        _seats_from(arrays, cliques),
        tuple(int.from_bytes(row.tobytes(), "little") for row in arrays["ancestors"]),
    )


def _seats_from(arrays: Arrays, cliques: Sequence[Clique]) -> tuple[Seat, ...]:
    where = arrays["seat cliques"].tolist()
    sizes = np.array([len(cliques[k].variables) for k in where], np.int32)
    axes = tuples(arrays["seat axes"].astype(np.int32), sizes)
    bases = cut(arrays["bases"], [(4, 1 << one.count(2)) for one in axes])
    return tuple(map(Seat, where, axes, bases))
