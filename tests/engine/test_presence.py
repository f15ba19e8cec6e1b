"""P(condition present | everything found) against plain enumeration of all states."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.engine.posterior import Evidence, posterior
from diagnose.engine.presence import Presence
from tests.engine import enumeration
from tests.engine.small_networks import Case, cases, evidence_on


def by_enumeration(case: Case, evidence: Evidence, wanted: set[int]) -> float:
    """Return P(one of these is present), account by account, state by state."""
    network, figures = case.network, case.figures
    shares = enumeration.posterior(
        network, figures, case.evidence_weights(evidence), evidence.findings
    )
    total = 0.0
    for share, present in zip(shares, network.sets, strict=True):
        whole = some = 0.0
        for state in product((0, 1), repeat=network.conditions):
            chance = enumeration.chance_of_state(network, figures, present, state)
            for i, weights in evidence.findings.items():
                chance *= enumeration.likelihood(network, figures, i, weights, state)
            whole += chance
            some += chance * any(state[c] for c in wanted)
        total += float(share) * some / whole
    return total


@settings(max_examples=25, deadline=None)
@given(data=st.data(), case=cases(most=6))
def test_presence_agrees(data: st.DataObject, case: Case) -> None:
    evidence, model = data.draw(evidence_on(case)), case.model()
    presence = Presence(model, evidence, posterior(model, evidence))
    for c in presence.variable:
        assert presence.any_of([c]) == pytest.approx(by_enumeration(case, evidence, {c}), abs=1e-9)
    for finding in case.network.findings:
        signs = sorted({*finding.low, *finding.high})
        if not signs:
            continue
        try:
            some = presence.any_of(signs)
        except LookupError:
            continue  # a finding of many conditions is laid out over several cliques
        assert some == pytest.approx(by_enumeration(case, evidence, {*signs}), abs=1e-9)
        assert some >= max(presence.any_of([c]) for c in signs) - 1e-9
    assert np.isclose(presence.by_pattern.sum(), 1.0)
