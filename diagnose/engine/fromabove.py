"""What every clique sees of the rest of its tree: the way back down."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from diagnose.engine.cliquetree import Floats, Tables


class FromAbove:
    """The messages away from the roots, worked out when they are asked for.

    All of them run over the rows of the tree's root. ``laid_on`` as for ``Tables.climb``.
    """

    def __init__(self, tables: Tables, laid_on: Mapping[int, Floats]) -> None:
        self.tables = tables
        self.laid_on = laid_on
        self.changed = tables.climb(laid_on)
        self._above: dict[int, Floats] = {}

    def joint(self, k: int, without: int = -1) -> Floats:
        """Return the joint weight of clique ``k``'s variables and all that was found.

        Shape (2, 2, ..., rows of the root); the subtree of child ``without`` is left out.
        """
        forest = self.tables.forest
        here = self.tables.gathered(k, self.changed, without)
        if k in self.laid_on:
            here = here * self.laid_on[k]
        clique = forest.places[k].clique
        joint = here.take(forest.row_of_root[k], axis=-1)
        above = self.above(k)
        own = [1] * (len(clique.variables) - clique.separator)
        joint *= above.reshape(*[2] * clique.separator, *own, -1)
        return joint

    def above(self, k: int) -> Floats:
        """Return what the rest of the tree says of clique ``k``'s separator.

        Shape (joint states of the separator, rows of the root).
        """
        if k not in self._above:
            self._above[k] = self._passed_down(k)
        return self._above[k]

    def _passed_down(self, k: int) -> Floats:
        forest = self.tables.forest
        place = forest.places[k]
        parent = place.clique.parent
        if parent < 0:
            return np.ones((1, place.rows))
        joint = self.joint(parent, without=k)
        kept = set(place.clique.variables[: place.clique.separator])
        variables = forest.places[parent].clique.variables
        out = tuple(axis for axis, v in enumerate(variables) if v not in kept)
        return np.asarray(np.add.reduce(joint, axis=out).reshape(place.kept, -1))
