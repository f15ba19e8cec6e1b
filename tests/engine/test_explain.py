"""How far each finding pushes, against leaving it out and asking again."""

from __future__ import annotations

from dataclasses import replace
from math import log10

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.engine.explain import decibans, pushes
from diagnose.engine.posterior import Evidence, by_root, posterior
from tests.engine.small_networks import Case, cases, evidence_on


def parts(evidence: Evidence) -> list[Evidence]:
    """Leave out every finding in turn, looks first."""
    return [
        replace(evidence, looks={k: v for k, v in evidence.looks.items() if k != left_out})
        for left_out in evidence.looks
    ] + [
        replace(evidence, findings={k: v for k, v in evidence.findings.items() if k != left_out})
        for left_out in evidence.findings
    ]


@settings(max_examples=50, deadline=None)
@given(data=st.data(), case=cases(most=7))
def test_a_push_is_the_change_in_the_odds(data: st.DataObject, case: Case) -> None:
    model, evidence = case.model(), data.draw(evidence_on(case))
    rests = parts(evidence)
    now = by_root(model, posterior(model, evidence))
    for rest, push in zip(rests, pushes(model, evidence, rests), strict=True):
        before = by_root(model, posterior(model, rest))
        for p, q, got in zip(now, before, push.decibans, strict=True):
            if max(p, q) < 1.0 - 1e-6:
                want = 10.0 * log10(p / (1.0 - p)) - 10.0 * log10(q / (1.0 - q))
                assert got == pytest.approx(want, abs=1e-6)


@settings(max_examples=50, deadline=None)
@given(data=st.data(), case=cases(most=7))
def test_the_surprise_of_a_look_is_its_chance_given_the_rest(
    data: st.DataObject, case: Case
) -> None:
    model, evidence = case.model(), data.draw(evidence_on(case))
    looks = parts(evidence)[: len(evidence.looks)]
    for look, rest, push in zip(evidence.looks, looks, pushes(model, evidence, looks), strict=True):
        answers = case.looks[look][list(evidence.looks[look])]
        want = float(answers.sum(axis=0) @ posterior(model, rest))
        assert push.expected == pytest.approx(want, abs=1e-9)


@given(probability=st.floats(0.0, 1.0))
def test_decibans_stay_finite(probability: float) -> None:
    (got,) = decibans(np.array([probability]))
    assert np.isfinite(got)
    if 0.001 < probability < 0.999:
        odds = 10.0 ** (got / 10.0)
        assert odds / (1.0 + odds) == pytest.approx(probability)
