"""The engine against plain enumeration of all states of the conditions."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.engine.findings import check_weights
from diagnose.engine.network import Figures, Finding, Link, Network
from diagnose.engine.outlook import Outlook
from diagnose.engine.posterior import Evidence, posterior
from tests.engine import enumeration
from tests.engine.small_networks import (
    Case,
    cases,
    evidence_on,
    figure,
    finding_weights,
)

CLOSE = 1e-9


def by_enumeration(case: Case, evidence: Evidence) -> np.ndarray:
    weights = case.evidence_weights(evidence)
    return enumeration.posterior(case.network, case.figures, weights, evidence.findings)


@settings(max_examples=150, deadline=None)
@given(data=st.data(), case=cases(most=7))
def test_posteriors_agree(data: st.DataObject, case: Case) -> None:
    evidence = data.draw(evidence_on(case))
    np.testing.assert_allclose(
        posterior(case.model(), evidence), by_enumeration(case, evidence), atol=CLOSE
    )


@settings(max_examples=30, deadline=None)
@given(data=st.data(), case=cases(most=6, figures=figure))
def test_figures_of_nought_and_one_agree(data: st.DataObject, case: Case) -> None:
    """Links that always or never work, and findings that never err on one side."""
    evidence = data.draw(evidence_on(case))
    np.testing.assert_allclose(
        posterior(case.model(), evidence), by_enumeration(case, evidence), atol=CLOSE
    )


@settings(max_examples=30, deadline=None)
@given(data=st.data(), case=cases(most=6))
def test_what_open_findings_would_show_agrees(data: st.DataObject, case: Case) -> None:
    """E[basis | account, evidence] as a ratio of two enumerations."""
    model = case.model()
    evidence = data.draw(evidence_on(case))
    findings = range(len(case.network.findings))
    expected = Outlook(model, evidence).expected(findings)
    for i in set(findings) - set(evidence.findings):
        weights = data.draw(finding_weights())
        for r, present in enumerate(case.network.sets):
            shape = case.network, case.figures, present
            before = enumeration.chance_of_findings(*shape, evidence.findings)
            after = enumeration.chance_of_findings(*shape, {**evidence.findings, i: weights})
            got = weights @ expected[i, :, model.pattern_of_account[r]]
            assert got == pytest.approx(after / before, abs=CLOSE)


def _ladder(rungs: int) -> Case:
    """Every rung is brought about, seldom, by five rare conditions."""
    links = tuple(Link((c,), 5 + k) for k in range(rungs) for c in range(5))
    network = Network(
        5 + rungs,
        links,
        tuple(Finding((5 + k,)) for k in range(rungs)),
        (*((c,) for c in range(5)), ()),
        np.array([0, 1, 2, 3, 4, -1]),
        np.array([0, 0, 0, 0, 0, -1]),
    )
    figures = Figures(
        np.array([0.003] * 5 + [0.0005] * rungs),
        np.linspace(0.01, 0.03, len(links)),
        tuple(np.array([0.92]) for _ in range(rungs)),
        tuple(np.zeros(0) for _ in range(rungs)),
    )
    return Case(network, figures, np.full(6, 1 / 6), ())


def _all_bad(case: Case, false_alarm: float) -> Evidence:
    bad = check_weights(True, false_alarm)
    return Evidence({}, dict.fromkeys(range(len(case.network.findings)), bad))


@pytest.mark.parametrize("rungs", [1, 3, 5, 7])
def test_rare_findings_all_together(rungs: int) -> None:
    """The engine subtracts where a noisy-OR is split; what is left must still be exact."""
    case = _ladder(rungs)
    evidence = _all_bad(case, false_alarm=0.03)
    np.testing.assert_allclose(
        posterior(case.model(), evidence), by_enumeration(case, evidence), atol=CLOSE
    )


def test_findings_that_never_err_cost_digits_but_not_the_answer() -> None:
    """The worst known case: five rare findings without false alarms, on the same five causes."""
    case = _ladder(5)
    evidence = _all_bad(case, false_alarm=0.0)
    np.testing.assert_allclose(
        posterior(case.model(), evidence), by_enumeration(case, evidence), atol=1e-6
    )
