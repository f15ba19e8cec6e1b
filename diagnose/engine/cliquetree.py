"""Exact sums over a factor graph of yes/no variables, for many variants of it at once.

A *pattern* says for every variable which of the variants of its factors holds. Patterns differ
in few places, so each clique keeps its numbers only for the distinct patterns of the subtree
below it; that is what makes hundreds of patterns cost little more than one.

Messages run towards the roots (``Tables.upward``) and give the total of every pattern; the way
back (``outlook.py``) gives what each clique sees of the rest.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from diagnose.engine.triangulate import Clique, Scope

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Factor:
    """A function of a few yes/no variables.

    ``scope``: the variables. ``table``: shape ``(..., variants, 2, 2, ...)`` with one axis of
    length 2 for each variable of the scope, in that order. ``switch``: the variable whose
    pattern picks the variant, or -1 where there is only one. ``lead``: how many leading axes
    the table has (several sets of figures at once).
    """

    scope: Scope
    table: Floats
    switch: int = -1


@dataclass(frozen=True, slots=True)
class Place:
    """Where a clique stands in the tree and how its numbers are laid out.

    ``own``: distinct patterns of the subtree (rows) and ``states``: 2 ** variables (columns).
    ``pattern_of``: row of each of the forest's patterns. ``representative``: one pattern of each
    row. ``children``: their indices; ``gather``: for each child the flat position in its message
    of every ``[row, state]`` here.
    """

    clique: Clique
    rows: int
    states: int
    kept: int
    pattern_of: Ints
    representative: Ints
    children: tuple[int, ...]
    gather: tuple[Ints, ...]


@dataclass(frozen=True, slots=True)
class Forest:
    """The laid-out clique trees. ``path_up``: for each clique itself and all above it.

    ``home``: the clique in which each variable is summed out.
    """

    places: tuple[Place, ...]
    roots: tuple[int, ...]
    path_up: tuple[tuple[int, ...], ...]
    home: tuple[int, ...]

    def clique_holding(self, scope: Sequence[int]) -> int:
        """Return the lowest clique that holds all variables of ``scope``."""
        return min(self.home[v] for v in scope)


def lay_out(
    cliques: Sequence[Clique], factors: Sequence[Factor], patterns: NDArray[np.bool_]
) -> Forest:
    """Lay out the forest for ``patterns`` (patterns x variables: the variant of each variable)."""
    home = [0] * patterns.shape[1]
    for k, clique in enumerate(cliques):
        for v in clique.variables[clique.separator :]:
            home[v] = k
    switches: list[set[int]] = [set() for _ in cliques]
    for factor in factors:
        if factor.switch >= 0:
            switches[min(home[v] for v in factor.scope)].add(factor.switch)
    children: list[list[int]] = [[] for _ in cliques]
    places: list[Place] = []
    for k, clique in enumerate(cliques):
        if clique.parent >= 0:
            children[clique.parent].append(k)
            switches[clique.parent] |= switches[k]
        places.append(_place(clique, children[k], places, patterns[:, sorted(switches[k])]))
    above: list[tuple[int, ...]] = [()] * len(cliques)
    for k in reversed(range(len(cliques))):
        parent = cliques[k].parent
        above[k] = (k, *(above[parent] if parent >= 0 else ()))
    roots = tuple(k for k, clique in enumerate(cliques) if clique.parent < 0)
    return Forest(tuple(places), roots, tuple(above), tuple(home))


def _place(
    clique: Clique, children: Sequence[int], places: Sequence[Place], below: NDArray[np.bool_]
) -> Place:
    _, first, inverse = np.unique(
        np.packbits(below, axis=1), axis=0, return_index=True, return_inverse=True
    )
    pattern_of = inverse.reshape(-1).astype(np.intp)
    gather = []
    for j in children:
        child = places[j]
        kept = child.clique.variables[: child.clique.separator]
        columns = states_of(clique.variables, kept)
        rows = child.pattern_of[first]
        gather.append((rows[:, None] * child.kept + columns[None, :]).astype(np.intp))
    return Place(
        clique,
        rows=len(first),
        states=2 ** len(clique.variables),
        kept=2**clique.separator,
        pattern_of=pattern_of,
        representative=first.astype(np.intp),
        children=tuple(children),
        gather=tuple(gather),
    )


def states_of(variables: Scope, part: Scope) -> Ints:
    """For every joint state of ``variables``, the index of the joint state of ``part``.

    The first variable is the slowest to change.

    >>> states_of((3, 7), (7,)).tolist()
    [0, 1, 0, 1]
    """
    states = np.arange(2 ** len(variables))
    index = np.zeros_like(states)
    for v in part:
        bit = len(variables) - 1 - variables.index(v)
        index = index * 2 + ((states >> bit) & 1)
    return index


def spread(factor: Factor, place: Place, patterns: NDArray[np.bool_]) -> Floats:
    """Return the factor over the clique's rows and states: ``(..., rows or 1, states)``."""
    columns = states_of(place.clique.variables, factor.scope)
    lead = factor.table.shape[: factor.table.ndim - len(factor.scope) - 1]
    flat = factor.table.reshape(*lead, factor.table.shape[len(lead)], -1)
    if factor.switch < 0:
        return np.asarray(flat[..., columns])
    variant = patterns[place.representative, factor.switch].astype(np.intp)
    return np.asarray(flat[..., variant[:, None], columns[None, :]])


class Tables:
    """The numbers of a forest: what each clique holds before and after findings are laid on.

    Immutable: ``with_findings`` returns new totals and leaves this as it is.
    """

    def __init__(
        self, forest: Forest, factors: Sequence[Factor], patterns: NDArray[np.bool_]
    ) -> None:
        self.forest = forest
        self.at_rest: list[Floats] = []
        for place in forest.places:
            self.at_rest.append(np.ones((place.rows, place.states)))
        for factor in factors:
            k = forest.clique_holding(factor.scope)
            self.at_rest[k] = self.at_rest[k] * spread(factor, forest.places[k], patterns)
        self.messages: list[Floats] = []
        self.filled: list[Floats] = []
        for k in range(len(forest.places)):
            filled = self.fill(k, self.messages, self.at_rest[k])
            self.filled.append(filled)
            self.messages.append(self.summed(k, filled))
        self.silent = [bool(np.all(np.abs(m - 1.0) < 1e-15)) for m in self.messages]

    def fill(
        self, k: int, messages: Sequence[Floats] | Mapping[int, Floats], start: Floats
    ) -> Floats:
        """Multiply the messages of all children into ``start``, the clique's own numbers."""
        place = self.forest.places[k]
        for j, gather in zip(place.children, place.gather, strict=True):
            start = start * messages[j].take(gather, axis=-1)
        return start

    def summed(self, k: int, filled: Floats) -> Floats:
        """Sum out what belongs to clique ``k`` alone; return its flat message."""
        place = self.forest.places[k]
        lead = filled.shape[:-2]
        shaped = filled.reshape(*lead, place.rows * place.kept, -1)
        return np.asarray(np.add.reduce(shaped, axis=-1))

    def upward(self, laid_on: Mapping[int, Floats]) -> dict[int, Floats]:
        """Return the messages that change when findings are laid on the cliques.

        ``laid_on``: clique -> factor over its states, ``(..., 1, states)`` or ``(states,)``.
        """
        places = self.forest.places
        touched = sorted({k for start in laid_on for k in self.forest.path_up[start]})
        changed: dict[int, Floats] = {}
        for k in touched:
            place = places[k]
            if changed.keys().isdisjoint(place.children):
                filled = self.filled[k]
            else:
                filled = self.at_rest[k]
                for j, gather in zip(place.children, place.gather, strict=True):
                    if j in changed:
                        filled = filled * changed[j].take(gather, axis=-1)
                    elif not self.silent[j]:
                        filled = filled * self.messages[j].take(gather, axis=-1)
            if k in laid_on:
                filled = filled * laid_on[k]
            changed[k] = self.summed(k, filled)
        return changed
