"""What the findings still open would show: their chances given all that was found, by pattern."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from diagnose.engine.cliquetree import Floats
from diagnose.engine.fromabove import FromAbove
from diagnose.engine.model import Model
from diagnose.engine.posterior import Evidence, laid_on


class Outlook:
    """Expectations under the findings so far, exact for every pattern."""

    def __init__(self, model: Model, evidence: Evidence) -> None:
        self.model = model
        self.touched = 0
        for finding in evidence.findings:
            self.touched |= model.ancestors[finding]
        self.seen = FromAbove(model.tables, laid_on(model, evidence.findings))

    def expected(self, findings: Iterable[int]) -> Floats:
        """Return E[basis | pattern, evidence]: (findings, 4, patterns)."""
        forest = self.model.forest
        rows = [
            self.by_row(i).take(forest.places[self.tree(i)].pattern_of, axis=-1) for i in findings
        ]
        return np.array(rows).reshape(-1, 4, len(self.model.patterns))

    def tree(self, finding: int) -> int:
        """Return the root of the tree in which a finding is seated."""
        return self.model.forest.root[self.model.seats[finding].clique]

    def by_row(self, finding: int) -> Floats:
        """Return E[basis | pattern, evidence]: (4, rows of the tree's root).

        Where the finding has no ancestor in common with the evidence, nothing has changed.
        """
        if self.model.ancestors[finding] & self.touched:
            return self.model.seats[finding].expected(self.seen)
        return self.model.expected_at_rest(finding)
