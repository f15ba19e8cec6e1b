"""What every clique sees of the rest of its tree: the way back down."""

from __future__ import annotations

from collections.abc import Collection, Mapping

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
        self._last: tuple[int, Floats] = (-1, np.zeros(0))

    def joint(self, k: int, kept: Collection[int], without: int = -1) -> Floats:
        """Return the joint weight of some of clique ``k``'s variables and all that was found.

        ``kept``: the places of these variables in the clique. The subtree of child ``without`` is
        left out. Shape (2, 2, ..., rows of the root). What the clique sums out by itself is summed
        before its rows are spread over those of the root, while there are few of them.
        """
        forest = self.tables.forest
        clique = forest.places[k].clique
        shared, size = range(clique.separator), len(clique.variables)
        here = self._here(k, without)
        own = [axis for axis in range(clique.separator, size) if axis not in kept]
        if own:
            here = np.add.reduce(here, axis=tuple(own))
        joint = here.take(forest.row_of_root[k], axis=-1)
        above = self.above(k)
        joint *= above.reshape(*[2] * len(shared), *[1] * (size - len(shared) - len(own)), -1)
        out = tuple(axis for axis in shared if axis not in kept)
        return np.add.reduce(joint, axis=out) if out else joint

    def _here(self, k: int, without: int) -> Floats:
        """Return what clique ``k`` and its subtree say, leaving out that of child ``without``."""
        if without < 0 and k == self._last[0]:
            return self._last[1]
        here = self.tables.gathered(k, self.changed, without)
        if k in self.laid_on:
            here = here * self.laid_on[k]
        if without < 0:
            self._last = k, here
        return here

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
        shared = set(place.clique.variables[: place.clique.separator])
        variables = forest.places[parent].clique.variables
        kept = {axis for axis, v in enumerate(variables) if v in shared}
        return self.joint(parent, kept, without=k).reshape(place.kept, -1)
