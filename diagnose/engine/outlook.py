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
        asked = list(findings)
        expected: Floats = np.zeros((len(asked), 4, self.model.patterns))
        place = {finding: k for k, finding in enumerate(asked)}
        for root, rows in self.by_tree(asked).items():
            pattern_of = self.model.forest.places[root].pattern_of
            for finding, row in rows.items():
                expected[place[finding]] = row.take(pattern_of, axis=-1)
        return expected

    def by_tree(self, findings: Iterable[int]) -> dict[int, dict[int, Floats]]:
        """Return E[basis | pattern, evidence] by the root of the finding's tree and the finding.

        Shape (4, rows of the tree's root). Where a finding has no ancestor in common with the
        evidence, nothing has changed for it.
        """
        model = self.model
        trees: dict[int, dict[int, Floats]] = {}
        for finding in sorted(findings, key=lambda i: model.seats[i].clique):
            seat = model.seats[finding]
            rows = trees.setdefault(model.forest.root[seat.clique], {})
            if not model.ancestors[finding] & self.touched:
                rows[finding] = model.expected_at_rest(finding)
                continue
            rows[finding] = seat.expected(self.seen.joint(seat.clique, seat.held))
        return trees
