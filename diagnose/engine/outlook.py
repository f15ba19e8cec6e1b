"""What the findings still open would show: their chances given all that was found, by pattern.

The way back down the trees. ``Outlook`` holds, for every pattern, what each clique's separator
sees of the rest of its tree; from that the expectation of a finding's basis is one small sum.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from diagnose.engine.cliquetree import Floats, Place, states_of
from diagnose.engine.model import Model
from diagnose.engine.posterior import Evidence, laid_on


class Outlook:
    """Expectations under the findings so far, exact for every pattern."""

    def __init__(self, model: Model, evidence: Evidence) -> None:
        self.model = model
        self.laid = laid_on(model, evidence)
        self.messages = dict(enumerate(model.tables.messages))
        self.messages |= model.tables.upward(self.laid)
        self.from_above: dict[int, Floats] = {}

    def expected(self, findings: Iterable[int]) -> Floats:
        """Return E[basis | pattern, evidence]: (findings, 4, patterns)."""
        return np.array([self._expected(i) for i in findings]).reshape(
            -1, 4, len(self.model.patterns)
        )

    def _expected(self, finding: int) -> Floats:
        seat = self.model.seats[finding]
        place = self.model.forest.places[seat.clique]
        here = self._filled(seat.clique)
        weighed = here[:, None, :] * seat.basis
        inside = weighed.reshape(place.rows, 4, place.kept, -1).sum(axis=-1)
        above = self.above(seat.clique)
        sums = np.einsum("pbs,ps->bp", inside[place.pattern_of], above)
        return np.asarray(sums / sums[0])

    def _filled(self, k: int, without: int = -1) -> Floats:
        """Return the clique's numbers with its findings and the messages of its children.

        ``without``: a child that is left out.
        """
        tables = self.model.tables
        place = self.model.forest.places[k]
        filled = tables.at_rest[k]
        for j, gather in zip(place.children, place.gather, strict=True):
            if j != without:
                filled = filled * self.messages[j].take(gather)
        return filled * self.laid[k] if k in self.laid else filled

    def above(self, k: int) -> Floats:
        """Return what the rest of the tree says of clique ``k``'s separator: (patterns, kept)."""
        if k not in self.from_above:
            parent = self.model.forest.places[k].clique.parent
            if parent < 0:
                self.from_above[k] = np.ones((len(self.model.patterns), 1))
            else:
                self.from_above[k] = self._passed_down(parent, k)
        return self.from_above[k]

    def _passed_down(self, parent: int, k: int) -> Floats:
        up, down = self.model.forest.places[parent], self.model.forest.places[k]
        carry = _carry(up, down, self._filled(parent, without=k))
        passed = np.einsum("pab,pb->pa", carry[up.pattern_of], self.above(parent))
        return np.asarray(passed / passed.sum(axis=1, keepdims=True))


def _carry(up: Place, down: Place, filled: Floats) -> Floats:
    """Sum ``filled`` (rows, states) of ``up`` onto (rows, separator of down, separator of up)."""
    kept = down.clique.variables[: down.clique.separator]
    onto = states_of(up.clique.variables, kept)
    order = np.argsort(onto, kind="stable")
    starts = np.searchsorted(onto[order], np.arange(down.kept))
    inner = filled.reshape(up.rows, up.kept, -1)
    spread = np.zeros((up.rows, up.kept, up.states))
    width = up.states // up.kept
    for s in range(up.kept):
        spread[:, s, s * width : (s + 1) * width] = inner[:, s, :]
    summed = np.add.reduceat(spread[:, :, order], starts, axis=2)
    return summed.transpose(0, 2, 1)
