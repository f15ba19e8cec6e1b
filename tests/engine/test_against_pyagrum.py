"""The engine against pyAgrum (P.-H. Wuillemin and others, https://agrum.gitlab.io)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.engine.ask import finding_tables
from diagnose.engine.posterior import posterior
from tests.bench import synthetic
from tests.engine.encodings import plain
from tests.engine.peers import (
    PyAgrum,
    compact_encoding,
    compact_posterior,
    compact_tables,
    plain_posterior,
)
from tests.engine.small_networks import Case, cases, evidence_on

CLOSE = 1e-9


@settings(max_examples=150, deadline=None)
@given(data=st.data(), case=cases(most=9))
def test_small_networks_written_word_for_word(data: st.DataObject, case: Case) -> None:
    peer = PyAgrum(plain(case.network, case.figures, case.prior, case.looks))
    model = case.model()
    for _ in range(3):
        evidence = data.draw(evidence_on(case))
        np.testing.assert_allclose(
            posterior(model, evidence), plain_posterior(peer, evidence), atol=CLOSE
        )


@settings(max_examples=80, deadline=None)
@given(data=st.data(), case=cases(most=9))
def test_small_networks_written_for_speed(data: st.DataObject, case: Case) -> None:
    """What the benchmark times must be the same question."""
    model = case.model()
    peer = PyAgrum(compact_encoding(model))
    evidence = data.draw(evidence_on(case))
    np.testing.assert_allclose(
        posterior(model, evidence), compact_posterior(peer, model, evidence), atol=CLOSE
    )


@pytest.mark.parametrize("seed", range(4))
def test_a_network_of_full_size(seed: int) -> None:
    """250 conditions, about 3,000 accounts, 300 questions."""
    model = synthetic.model(synthetic.Size(), seed)
    peer = PyAgrum(compact_encoding(model))
    for looks, findings in ((0, 5), (5, 10), (12, 13), (30, 20), (150, 30)):
        evidence = synthetic.evidence(model, looks, findings, seed)
        np.testing.assert_allclose(
            posterior(model, evidence), compact_posterior(peer, model, evidence), atol=CLOSE
        )


def test_what_open_findings_would_show_on_a_network_of_full_size() -> None:
    """P(outcome, root condition) of every fifth finding, as the ranking of questions uses it."""
    model = synthetic.model(synthetic.Size())
    peer = PyAgrum(compact_encoding(model))
    evidence = synthetic.evidence(model, 5, 6)
    outcomes = synthetic.outcomes(model.network)
    some = {i: outcomes[i] for i in range(0, 150, 5) if i not in evidence.findings}
    ours = finding_tables(model, evidence, posterior(model, evidence), some)
    for mine, theirs in zip(ours, compact_tables(peer, model, evidence, some), strict=True):
        np.testing.assert_allclose(mine, theirs, atol=CLOSE)
