"""Words heard with a probability: virtual evidence, exact and without a memory of order."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.engine.posterior import (
    Evidence,
    finding_rate,
    likelihood_of,
    look_rates,
    posterior,
)
from tests.engine.encodings import plain
from tests.engine.peers import Pgmpy, PyAgrum, plain_posterior
from tests.engine.small_networks import Case, cases, evidence_on

CLOSE = 1e-9


@settings(max_examples=60, deadline=None)
@given(data=st.data(), case=cases(most=7))
def test_against_the_virtual_evidence_of_two_libraries(data: st.DataObject, case: Case) -> None:
    """pyAgrum takes it as soft evidence, pgmpy by a child that was seen."""
    evidence = data.draw(evidence_on(case))
    encoding = plain(case.network, case.figures, case.prior, case.looks)
    ours = posterior(case.model(), evidence)
    for peer in (PyAgrum(encoding), Pgmpy(encoding)):
        np.testing.assert_allclose(ours, plain_posterior(peer, evidence), atol=CLOSE)


@settings(max_examples=60, deadline=None)
@given(data=st.data(), case=cases(most=7))
def test_sure_words_are_an_answer_and_empty_ones_are_nothing(
    data: st.DataObject, case: Case
) -> None:
    model = case.model()
    look = data.draw(st.integers(0, len(case.looks) - 1)) if case.looks else None
    if look is None:
        return
    answer = data.draw(st.integers(0, len(case.looks[look]) - 1))
    rates = look_rates(model, look)
    sure = likelihood_of({answer: 1.0}, rates)
    np.testing.assert_allclose(
        posterior(model, Evidence({}, {}, {look: sure})),
        posterior(model, Evidence({look: (answer,)})),
        atol=CLOSE,
    )
    nothing = likelihood_of({}, rates)
    as_usual = likelihood_of({k: 0.5 * float(r) for k, r in enumerate(rates)}, rates)
    for empty in (nothing, as_usual):
        after = posterior(model, Evidence({}, {}, {look: empty}))
        np.testing.assert_allclose(after, np.exp(model.log_prior), atol=1e-6)


@settings(max_examples=60, deadline=None)
@given(data=st.data(), case=cases(most=7))
def test_the_mixture_is_the_one_of_the_design(data: st.DataObject, case: Case) -> None:
    """L(r) = (1 - sum p) + sum over answers of p / P(answer) * P(answer | r)."""
    model = case.model()
    for look in range(len(case.looks)):
        rates = look_rates(model, look)
        chances = data.draw(st.lists(st.floats(0.0, 1.0), min_size=len(rates), max_size=len(rates)))
        whole = sum(chances) or 1.0
        said = {k: 0.9 * p / whole for k, p in enumerate(chances)}
        table = np.exp(model.looks[look].log_likelihood)
        by_hand = (
            1.0
            - sum(said.values())
            + sum(p / max(float(rates[k]), 1e-3) * table[k] for k, p in said.items())
        )
        ours = np.exp(model.looks[look].log_likelihood_of(likelihood_of(said, rates)))
        np.testing.assert_allclose(ours, by_hand, rtol=1e-9)


@settings(max_examples=40, deadline=None)
@given(case=cases(most=7))
def test_rates_are_what_is_expected_before_anything_is_found(case: Case) -> None:
    model = case.model()
    prior = np.exp(model.log_prior)
    for look, table in enumerate(model.looks):
        assert look_rates(model, look).sum() == pytest.approx(1.0)
        np.testing.assert_allclose(look_rates(model, look), np.exp(table.log_likelihood) @ prior)
    for number in range(len(case.network.findings)):
        assert finding_rate(model, number, (1.0, 0.0, 0.0, 0.0)) == pytest.approx(1.0)


def test_words_that_contradict_each_other_weaken_each_other() -> None:
    """Two answers, each said with 0.9: what is left is nearly what was known before."""
    rates = np.array([0.5, 0.5])
    one, other = (np.array(likelihood_of({k: 0.9}, rates)) for k in (0, 1))
    both = one * other
    assert both[0] == pytest.approx(both[1])
    assert one[0] / one[1] == pytest.approx(19.0)
