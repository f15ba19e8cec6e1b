"""Exact sums over a factor graph of yes/no variables, for many variants of it at once.

A *pattern* says for every variable which of the variants of its factors holds. Patterns differ
in few places, so each clique keeps its numbers only for the distinct patterns of the subtree
below it: its *rows*. That is what makes hundreds of patterns cost little more than one.

A clique's numbers have one axis of length 2 for each of its variables and the rows as their last
axis, so that every step runs along contiguous memory. All cliques agree on the order of the
variables; where a smaller table lacks one, it has an axis of length 1.

Messages run towards the roots (``Tables``); the way back is in ``fromabove.py``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from diagnose.engine.triangulate import Clique, Variables

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Shape = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Factor:
    """A function of a few yes/no variables.

    ``scope``: the variables. ``table``: shape ``(..., variants, 2, 2, ...)`` with one axis of
    length 2 for each variable of the scope, in that order; leading axes are several sets of
    figures at once. ``switch``: the variable whose pattern picks the variant, or -1 where there
    is only one.
    """

    scope: Variables
    table: Floats
    switch: int = -1


@dataclass(frozen=True, slots=True)
class Stand:
    """Where a clique stands in the tree and how its numbers are laid out.

    ``pattern_of``: the row of each of the forest's patterns. ``representative``: one pattern of
    each row. ``children``: their indices; for each of them ``child_rows``, its row for every row
    here, and ``child_axes``, the shape of its message without the rows.
    """

    clique: Clique
    pattern_of: Ints
    representative: Ints
    children: tuple[int, ...]
    child_rows: tuple[Ints, ...]
    child_axes: tuple[Shape, ...]

    @property
    def rows(self) -> int:
        """Distinct patterns of the subtree."""
        return len(self.representative)

    @property
    def kept(self) -> int:
        """Joint states of the separator towards the parent."""
        return 1 << self.clique.separator


@dataclass(frozen=True, slots=True)
class Forest:
    """The laid-out clique trees.

    ``home``: the clique in which each variable is summed out. ``root``: for each clique the root
    of its tree, and ``row_of_root``: its row for every row of that root.
    """

    places: tuple[Stand, ...]
    home: tuple[int, ...]
    root: tuple[int, ...]
    row_of_root: tuple[Ints, ...]

    def clique_holding(self, scope: Sequence[int]) -> int:
        """Return the lowest clique that holds all variables of ``scope``."""
        return min(self.home[v] for v in scope)


def axes_of(clique: Clique, scope: Sequence[int]) -> Shape:
    """Return the shape of a table over ``scope`` among the variables of ``clique``.

    >>> axes_of(Clique((7, 3, 5), 1, -1), (3, 5))
    (1, 2, 2)
    """
    return tuple(2 if v in scope else 1 for v in clique.variables)


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
    rows, firsts = [], []
    for k, clique in enumerate(cliques):
        if clique.parent >= 0:
            switches[clique.parent] |= switches[k]
        below = np.packbits(patterns[:, sorted(switches[k])], axis=1)
        _, first, row = np.unique(below, axis=0, return_index=True, return_inverse=True)
        rows.append(row.reshape(-1).astype(np.intp))
        firsts.append(first.astype(np.intp))
    return placed(cliques, home, rows, firsts)


def placed(
    cliques: Sequence[Clique],
    home: Sequence[int],
    rows: Sequence[Ints] | Ints,
    firsts: Sequence[Ints],
) -> Forest:
    """Return the forest; ``rows``: of each pattern, ``firsts``: a pattern of each row, by clique.

    Children come before their parents, here as everywhere.
    """
    children: list[list[int]] = [[] for _ in cliques]
    places: list[Stand] = []
    for k, clique in enumerate(cliques):
        if clique.parent >= 0:
            children[clique.parent].append(k)
        kept = [places[j].clique.variables[: places[j].clique.separator] for j in children[k]]
        places.append(
            Stand(
                clique,
                rows[k],
                firsts[k],
                tuple(children[k]),
                tuple(places[j].pattern_of[firsts[k]] for j in children[k]),
                tuple(axes_of(clique, some) for some in kept),
            )
        )
    root = list(range(len(cliques)))
    for k in reversed(range(len(cliques))):
        if cliques[k].parent >= 0:
            root[k] = root[cliques[k].parent]
    row_of_root = (
        place.pattern_of[places[root[k]].representative] for k, place in enumerate(places)
    )
    return Forest(tuple(places), tuple(home), tuple(root), tuple(row_of_root))


def spread(factor: Factor, place: Stand, patterns: NDArray[np.bool_]) -> Floats:
    """Return the factor with the axes of the clique and its rows, 1 where it lacks them."""
    lead = factor.table.ndim - len(factor.scope) - 1
    held = [v for v in place.clique.variables if v in factor.scope]
    order = [*range(lead), *(lead + 1 + factor.scope.index(v) for v in held), lead]
    table = factor.table.transpose(order)
    if factor.switch >= 0:
        variant = patterns[place.representative, factor.switch].astype(np.intp)
        table = table.take(variant, axis=-1)
    axes = axes_of(place.clique, factor.scope)
    return np.asarray(table.reshape(*table.shape[:lead], *axes, -1))


def alone(forest: Forest, factors: Sequence[Factor], patterns: NDArray[np.bool_]) -> list[Floats]:
    """Return the product of the factors at home in each clique, with its axes and rows."""
    products: list[Floats] = [
        np.ones((*[2] * len(place.clique.variables), place.rows)) for place in forest.places
    ]
    for factor in factors:
        k = forest.clique_holding(factor.scope)
        products[k] = products[k] * spread(factor, forest.places[k], patterns)
    return products


class Tables:
    """The numbers of a forest at rest, and what becomes of them when findings are laid on.

    ``climb`` returns new messages and leaves these as they are. A message is what a subtree says
    of its separator: (..., joint states of the separator, rows). What a clique holds at rest is
    kept once with all its children and once without each of them.

    ``alone``: of each clique the product of its own factors (``alone``, below). ``messages``: those
    at rest, where they were kept.
    """

    def __init__(
        self, forest: Forest, alone: Sequence[Floats], messages: Sequence[Floats] | None = None
    ) -> None:
        self.forest = forest
        self.alone = list(alone)
        self._resting: dict[tuple[int, int], Floats] = {}
        self.messages: list[Floats] = []
        self.silent: list[bool] = []
        for k in range(len(forest.places)):
            message = self.summed(k, self.gathered(k, {})) if messages is None else messages[k]
            self.messages.append(message)
            self.silent.append(bool(np.abs(message - 1.0).max() < 1e-15))

    def gathered(self, k: int, changed: Mapping[int, Floats], without: int = -1) -> Floats:
        """Return the numbers of clique ``k`` times the messages of its children.

        ``changed`` messages stand in for those at rest; child ``without`` is left out.
        """
        fresh = [j for j in self.forest.places[k].children if j in changed and j != without]
        left_out = [*fresh, without] if without >= 0 else fresh
        if len(left_out) > 1:
            product = self._at_rest(k, left_out)
        else:
            key = k, left_out[0] if left_out else -1
            if key not in self._resting:
                self._resting[key] = self._at_rest(k, left_out)
            product = self._resting[key]
        for j in fresh:
            product = product * self._spread_message(k, j, changed[j])
        return product

    def _at_rest(self, k: int, left_out: Sequence[int]) -> Floats:
        product = self.alone[k]
        for j in self.forest.places[k].children:
            if j not in left_out and not self.silent[j]:
                product = product * self._spread_message(k, j, self.messages[j])
        return product

    def _spread_message(self, k: int, j: int, message: Floats) -> Floats:
        """Return the message of child ``j`` with the axes and rows of clique ``k``."""
        place = self.forest.places[k]
        c = place.children.index(j)
        rows = message.take(place.child_rows[c], axis=-1)
        return np.asarray(rows.reshape(*message.shape[:-2], *place.child_axes[c], -1))

    def summed(self, k: int, filled: Floats) -> Floats:
        """Sum out what belongs to clique ``k`` alone: the message to its parent."""
        place = self.forest.places[k]
        lead = filled.shape[: filled.ndim - len(place.clique.variables) - 1]
        shaped = filled.reshape(*lead, place.kept, -1, filled.shape[-1])
        return np.asarray(np.add.reduce(shaped, axis=-2))

    def climb(self, laid_on: Mapping[int, Floats], *, until_met: bool = False) -> dict[int, Floats]:
        """Return the messages that change when findings are laid on the cliques.

        ``laid_on``: clique -> likelihood with the axes of the clique and one of length 1 for the
        rows. Climbs to the roots, or ``until_met``: to the lowest clique, the last one of the
        result, that has all of them in its subtree.
        """
        changed: dict[int, Floats] = {}
        waiting = set(laid_on)
        while waiting:
            k = min(waiting)
            waiting.remove(k)
            place = self.forest.places[k]
            filled = self.gathered(k, changed)
            changed[k] = self.summed(k, filled * laid_on[k] if k in laid_on else filled)
            if place.clique.parent >= 0 and (waiting or not until_met):
                waiting.add(place.clique.parent)
        return changed
