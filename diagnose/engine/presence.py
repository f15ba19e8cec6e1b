"""How likely conditions of the shop are present, whatever made the reject.

P(condition present | everything found) = sum over accounts of P(account | everything found) times
the marginal of the condition in the tree under the pattern of that account. Exact.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from diagnose.engine.cliquetree import Floats
from diagnose.engine.fromabove import FromAbove
from diagnose.engine.model import Model
from diagnose.engine.posterior import Evidence, laid_on


class Presence:
    """The chances of conditions to be present under one body of evidence."""

    def __init__(self, model: Model, evidence: Evidence, probabilities: Floats) -> None:
        """``probabilities``: of every account, given the evidence."""
        self.model = model
        self.by_pattern: Floats = np.bincount(
            model.pattern_of_account, probabilities, model.patterns
        ).astype(np.float64)
        self.seen = FromAbove(model.tables, laid_on(model, evidence.findings))
        self.variable = {c: v for v, c in enumerate(model.network.observable())}

    def any_of(self, conditions: Sequence[int]) -> float:
        """Return P(at least one of these is present).

        They must stand in one clique, as those of one finding do. Raises KeyError for a condition
        that no finding depends on, LookupError where they stand in several.
        """
        scope = [self.variable[c] for c in conditions]
        forest = self.model.forest
        k = forest.clique_holding(scope)
        place = forest.places[k]
        if not {*scope} <= {*place.clique.variables}:
            raise LookupError("these conditions stand in several cliques")
        kept = [axis for axis, v in enumerate(place.clique.variables) if v in scope]
        joint = self.seen.joint(k, kept)
        whole = joint.reshape(1 << len(kept), -1).sum(axis=0)
        none = joint.reshape(1 << len(kept), -1)[0]
        absent = none / np.where(whole > 0.0, whole, 1.0)
        pattern_of = forest.places[forest.root[k]].pattern_of
        return 1.0 - float(absent.take(pattern_of) @ self.by_pattern)
