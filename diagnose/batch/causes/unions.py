"""What the findings of the shop say where several accounts set conditions at once: exact."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from diagnose.engine.cliquetree import Floats, Ints, Tables, alone, lay_out
from diagnose.engine.findings import Weights
from diagnose.engine.frame import MERGE_UP_TO, account_patterns, seat
from diagnose.engine.model import Model
from diagnose.engine.network import Scribe
from diagnose.engine.triangulate import clique_tree, elimination_order

AT_ONCE = 2048
"""Patterns that are run through the tree together; more would need more memory."""
Bits = NDArray[np.bool_]


class Unions:
    """The findings of one shop over unions of what accounts set.

    Only the conditions that the findings depend on are kept, so that many accounts are alike.
    ``patterns``: (patterns, variables) what accounts set of them. ``of_account``: the pattern of
    each account, "none of these" last.
    """

    def __init__(self, model: Model, findings: Mapping[int, Weights]) -> None:
        answered = sorted(findings)
        self._weights = [findings[i] for i in answered]
        network, figures = model.network.only(answered), model.figures.only(answered)
        self._scribe = Scribe(network, figures)
        self.patterns, self.of_account = account_patterns(network, self._scribe)
        scopes = [factor.scope for factor in self._scribe.factors]
        order = elimination_order(scopes, self._scribe.variables)
        self._cliques = clique_tree(scopes, order, MERGE_UP_TO)
        self._known: dict[bytes, float] = {}

    def log_chance(self, patterns: Bits) -> Floats:
        """Return log P(all findings | these conditions are set): (patterns,).

        What was worked out once is kept.
        """
        if not self._weights:
            return np.zeros(len(patterns))
        packed = np.packbits(patterns, axis=1)
        keys = [row.tobytes() for row in packed]
        new = {key: k for k, key in enumerate(keys) if key not in self._known}
        numbers = np.array(list(new.values()), dtype=np.intp)
        for start in range(0, len(numbers), AT_ONCE):
            some = numbers[start : start + AT_ONCE]
            chances = self._worked(patterns[some])
            self._known.update(zip((keys[k] for k in some), chances.tolist(), strict=True))
        return np.array([self._known[key] for key in keys])

    def _worked(self, patterns: Bits) -> Floats:
        factors = self._scribe.factors
        forest = lay_out(self._cliques, factors, patterns)
        tables = Tables(forest, alone(forest, factors, patterns))
        laid: dict[int, Floats] = {}
        for basis, weights in zip(self._scribe.bases, self._weights, strict=True):
            place = seat(basis, forest)
            likelihood = place.likelihood(weights)
            before = laid.get(place.clique)
            laid[place.clique] = likelihood if before is None else before * likelihood
        climbed = tables.climb(laid)
        total = np.zeros(len(patterns))
        with np.errstate(divide="ignore"):
            for root in set(forest.root):
                if root in climbed:
                    chance = np.log(np.maximum(climbed[root][0], 0.0))
                    total += chance[forest.places[root].pattern_of]
        return total

    def with_others(self, others: Bits) -> Floats:
        """Return log P(findings | one pattern and ``others`` are set), for every pattern."""
        return self.log_chance(self.patterns | others)

    def pairs(self) -> Floats:
        """Return log P(findings | both patterns are set): (patterns, patterns)."""
        count = len(self.patterns)
        rows: Ints = np.repeat(np.arange(count), count)
        columns: Ints = np.tile(np.arange(count), count)
        upper = rows <= columns
        both = self.patterns[rows[upper]] | self.patterns[columns[upper]]
        table = np.zeros((count, count))
        table[rows[upper], columns[upper]] = self.log_chance(both)
        return np.where(upper.reshape(count, count), table, table.T)
