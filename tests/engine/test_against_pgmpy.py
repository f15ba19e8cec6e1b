"""The engine against pgmpy (https://pgmpy.org)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.engine.posterior import posterior
from tests.bench import synthetic
from tests.engine.encodings import plain
from tests.engine.peers import Pgmpy, compact_encoding, compact_posterior, plain_posterior
from tests.engine.small_networks import Case, cases, evidence_on

CLOSE = 1e-9


@settings(max_examples=25, deadline=None)
@given(data=st.data(), case=cases(most=8))
def test_small_networks_written_word_for_word(data: st.DataObject, case: Case) -> None:
    peer = Pgmpy(plain(case.network, case.figures, case.prior, case.looks))
    evidence = data.draw(evidence_on(case))
    np.testing.assert_allclose(
        posterior(case.model(), evidence), plain_posterior(peer, evidence), atol=CLOSE
    )


@settings(max_examples=25, deadline=None)
@given(data=st.data(), case=cases(most=8))
def test_small_networks_written_for_speed(data: st.DataObject, case: Case) -> None:
    """What the benchmark times must be the same question."""
    model = case.model()
    peer = Pgmpy(compact_encoding(model))
    evidence = data.draw(evidence_on(case))
    np.testing.assert_allclose(
        posterior(model, evidence), compact_posterior(peer, model, evidence), atol=CLOSE
    )


@pytest.mark.parametrize("seed", range(2))
def test_a_network_of_full_size(seed: int) -> None:
    """250 conditions, about 3,000 accounts, 300 questions; some 0.1 s for each answer."""
    model = synthetic.model(synthetic.Size(), seed)
    peer = Pgmpy(compact_encoding(model))
    for looks, findings in ((0, 5), (12, 8), (5, 25)):
        evidence = synthetic.evidence(model, looks, findings, seed)
        np.testing.assert_allclose(
            posterior(model, evidence), compact_posterior(peer, model, evidence), atol=CLOSE
        )
