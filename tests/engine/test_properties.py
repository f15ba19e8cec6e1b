"""What must hold of the answers whatever the network and whatever was found."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.engine.findings import check_weights
from diagnose.engine.model import Model
from diagnose.engine.network import Figures, Finding, Link, Network
from diagnose.engine.outlook import Outlook
from diagnose.engine.posterior import Evidence, by_root, posterior
from tests.bench import synthetic
from tests.engine.small_networks import Case, cases, evidence_on, finding_weights

FULL = synthetic.model(synthetic.HUNDRED)


@st.composite
def full_evidence(draw: st.DrawFn) -> Evidence:
    """Some looks and findings on a network of a hundred conditions."""
    looks, findings = draw(st.integers(0, 10)), draw(st.integers(0, 25))
    return synthetic.evidence(FULL, looks, findings, draw(st.integers(0, 10_000)))


def shuffled(data: st.DataObject, evidence: Evidence) -> Evidence:
    looks = data.draw(st.permutations(list(evidence.looks.items())))
    findings = data.draw(st.permutations(list(evidence.findings.items())))
    graded = data.draw(st.permutations(list(evidence.graded.items())))
    return Evidence(dict(looks), dict(findings), dict(graded))


@settings(max_examples=40, deadline=None)
@given(data=st.data(), evidence=full_evidence())
def test_the_order_of_answers_does_not_matter(data: st.DataObject, evidence: Evidence) -> None:
    again = posterior(FULL, shuffled(data, evidence))
    assert np.array_equal(posterior(FULL, evidence), again)


@settings(max_examples=40, deadline=None)
@given(data=st.data(), evidence=full_evidence())
def test_taking_an_answer_back_restores_what_was(data: st.DataObject, evidence: Evidence) -> None:
    before = posterior(FULL, evidence)
    one_more = data.draw(st.integers(0, len(FULL.seats) - 1))
    weights = data.draw(finding_weights())
    posterior(FULL, replace(evidence, findings={**evidence.findings, one_more: weights}))
    Outlook(FULL, evidence).expected([one_more])
    assert np.array_equal(posterior(FULL, evidence), before)


@settings(max_examples=40, deadline=None)
@given(evidence=full_evidence())
def test_probabilities_add_up_to_one(evidence: Evidence) -> None:
    answer = posterior(FULL, evidence)
    assert (answer >= 0.0).all()
    assert answer.sum() == pytest.approx(1.0, abs=1e-12)
    assert by_root(FULL, answer).sum() == pytest.approx(1.0, abs=1e-12)


def test_nothing_found_leaves_the_prior() -> None:
    np.testing.assert_allclose(posterior(FULL, Evidence()), np.exp(FULL.log_prior), atol=1e-15)


@settings(max_examples=40, deadline=None)
@given(evidence=full_evidence())
def test_a_finding_that_says_nothing_changes_nothing(evidence: Evidence) -> None:
    """Unsure is evidence of nothing: the same likelihood whatever the conditions."""
    unsure = {i: (0.5, 0.0, 0.0, 0.0) for i in range(5) if i not in evidence.findings}
    more = replace(evidence, findings={**evidence.findings, **unsure})
    np.testing.assert_allclose(posterior(FULL, more), posterior(FULL, evidence), atol=1e-12)


@settings(max_examples=60, deadline=None)
@given(data=st.data(), case=cases(most=8))
def test_outlook_is_what_the_posterior_then_turns_into(data: st.DataObject, case: Case) -> None:
    """Adding a finding multiplies every account by the outlook on it, up to one factor."""
    model = case.model()
    evidence = data.draw(evidence_on(case))
    for i in set(range(len(case.network.findings))) - set(evidence.findings):
        weights = data.draw(finding_weights())
        outlook = (weights @ Outlook(model, evidence).expected([i])[0])[model.pattern_of_account]
        joint = posterior(model, evidence) * outlook
        after = posterior(model, replace(evidence, findings={**evidence.findings, i: weights}))
        np.testing.assert_allclose(joint / joint.sum(), after, atol=1e-9)


@settings(max_examples=20, deadline=None)
@given(evidence=full_evidence())
def test_outlook_on_a_large_network(evidence: Evidence) -> None:
    before = posterior(FULL, evidence)
    outlook = Outlook(FULL, evidence)
    for i in sorted(set(range(len(FULL.seats))) - set(evidence.findings))[::7]:
        weights = synthetic.outcomes(FULL.network)[i][0]
        joint = before * (weights @ outlook.expected([i])[0])[FULL.pattern_of_account]
        findings = {**evidence.findings, i: tuple(weights)}
        after = posterior(FULL, Evidence(evidence.looks, findings))
        np.testing.assert_allclose(joint / joint.sum(), after, atol=1e-9)


LEAK = 0.02


def two_causes(checks: int = 1, false_alarm: float = 0.1) -> Model:
    """Wet sand (0) and a blocked vent (1) both bring about gas (2).

    Accounts: through wet sand; through the vent; through a third thing (3) that has no part in
    it; none of these. Findings: ``checks`` of the sand, then one of the vent, then one of gas.
    """
    findings = (*(Finding((0,)) for _ in range(checks)), Finding((1,)), Finding((2,)))
    network = Network(
        4,
        (Link((0,), 2), Link((1,), 2)),
        findings,
        ((0, 2), (1, 2), (3,), ()),
        np.array([0, 1, 3, -1]),
        np.array([0, 0, 0, -1]),
    )
    figures = Figures(
        np.array([LEAK, LEAK, 0.001, LEAK]),
        np.array([0.75, 0.75]),
        tuple(np.array([0.9]) for _ in findings),
        tuple(np.zeros(0) for _ in findings),
    )
    return Model(network, figures, np.log([0.3, 0.3, 0.36, 0.04]), [])


BAD, GOOD = check_weights(True, 0.1), check_weights(False, 0.1)


def chance_bad(model: Model, evidence: Evidence, finding: int, account: int) -> float:
    expected = Outlook(model, evidence).expected([finding])[0]
    return float(np.asarray(BAD) @ expected[:, model.pattern_of_account[account]])


def test_a_cause_that_is_found_explains_the_other_away() -> None:
    """Gas makes the vent suspect; wet sand found as well makes it less so."""
    model, unrelated = two_causes(), 2
    sand, vent, gas = 0, 1, 2
    at_rest = chance_bad(model, Evidence(), vent, unrelated)
    with_gas = chance_bad(model, Evidence({}, {gas: BAD}), vent, unrelated)
    with_both = chance_bad(model, Evidence({}, {gas: BAD, sand: BAD}), vent, unrelated)
    assert at_rest < with_both < with_gas
    without_gas = chance_bad(model, Evidence({}, {sand: BAD}), vent, unrelated)
    assert without_gas == pytest.approx(at_rest)


def test_a_finding_explained_by_one_account_lowers_the_others() -> None:
    model = two_causes()
    before = posterior(model, Evidence())
    after = posterior(model, Evidence({}, {0: BAD}))
    assert after[0] > before[0]
    assert (after[1:] < before[1:]).all()


@pytest.mark.parametrize("readings", [1, 2, 5, 10, 30])
def test_readings_of_one_condition_do_not_count_twice(readings: int) -> None:
    """However many say the sand is wet, they prove wet sand and no more than that.

    So an account through wet sand gains at most 1 / P(wet sand) over one that leaves it alone.
    """
    model = two_causes(checks=readings)
    evidence = Evidence({}, dict.fromkeys(range(readings), BAD))
    before, after = posterior(model, Evidence()), posterior(model, evidence)
    gain = (after[0] / after[2]) / (before[0] / before[2])
    assert 1.0 < gain <= 1.0 / LEAK * (1.0 + 1e-12)
    naive = ((0.1 + 0.9 * 0.9) / (LEAK * (0.1 + 0.9 * 0.9) + (1 - LEAK) * 0.1)) ** readings
    assert gain <= naive * (1.0 + 1e-12)


def test_more_readings_prove_more_but_level_off() -> None:
    gains = []
    for readings in (1, 2, 4, 8, 16):
        model = two_causes(checks=readings)
        after = posterior(model, Evidence({}, dict.fromkeys(range(readings), BAD)))
        gains.append(after[0] / after[2])
    steps = np.diff(gains)
    assert (steps > 0.0).all()
    assert steps[-1] < 0.01 * gains[-1]


def test_none_of_these_rises_when_the_findings_fit_nothing() -> None:
    """Sand, vent and gas are all found in order: no account through them is left standing."""
    model = two_causes()
    before = posterior(model, Evidence())
    after = posterior(model, Evidence({}, {0: GOOD, 1: GOOD, 2: GOOD}))
    assert after[-1] > before[-1]
    assert after[0] < before[0]
    assert after[1] < before[1]


def test_a_look_that_fits_no_account_raises_none_of_these() -> None:
    model = two_causes()
    strange = np.log(np.array([[0.02, 0.02, 0.02, 0.25], [0.98, 0.98, 0.98, 0.75]]))
    with_look = Model(model.network, model.figures, model.log_prior, [strange])
    after = posterior(with_look, Evidence({0: (0,)}))
    assert after[-1] > 5 * np.exp(model.log_prior[-1])


def test_two_answers_that_cannot_be_told_apart_count_as_either() -> None:
    model = two_causes()
    look = np.array([[0.5, 0.1, 0.2, 0.3], [0.3, 0.2, 0.2, 0.3], [0.2, 0.7, 0.6, 0.4]])
    with_look = Model(model.network, model.figures, model.log_prior, [np.log(look)])
    joint = np.exp(model.log_prior) * (look[0] + look[2])
    got = posterior(with_look, Evidence({0: (0, 2)}))
    np.testing.assert_allclose(got, joint / joint.sum(), atol=1e-12)
