"""The expected gain of a question, against trying every answer in turn."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pyagrum
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.engine.ask import information, rank
from diagnose.engine.findings import check_outcomes, reading_outcomes
from diagnose.engine.model import Model
from diagnose.engine.posterior import Evidence, by_root, log_joint, posterior
from tests.bench import synthetic
from tests.engine.encodings import CAUSE, Encoding, Node
from tests.engine.peers import to_pyagrum
from tests.engine.small_networks import Case, cases, evidence_on


def entropy(probabilities: np.ndarray) -> float:
    p = probabilities[probabilities > 0.0]
    return float(-(p * np.log2(p)).sum())


def outcomes(case: Case) -> dict[int, np.ndarray]:
    return {
        i: reading_outcomes((True, True), 0.05, 0.15) if f.high else check_outcomes(0.1)
        for i, f in enumerate(case.network.findings)
    }


def by_trying(model: Model, evidence: Evidence, answers: Iterator[tuple[float, Evidence]]) -> float:
    """Entropy of the root condition now, less what it is expected to be after the answer."""
    now = entropy(by_root(model, posterior(model, evidence)))
    later = sum(p * entropy(by_root(model, posterior(model, more))) for p, more in answers)
    return now - later


def look_answers(
    case: Case, model: Model, evidence: Evidence, look: int
) -> Iterator[tuple[float, Evidence]]:
    chances = case.looks[look] @ posterior(model, evidence)
    for answer, chance in enumerate(chances):
        looks = {**evidence.looks, look: (answer,)}
        yield float(chance), Evidence(looks, evidence.findings, evidence.graded)


def finding_answers(
    model: Model, evidence: Evidence, i: int, rows: np.ndarray
) -> Iterator[tuple[float, Evidence]]:
    """The chance of each outcome is the ratio of the chances of all findings with and without."""
    for weights in rows:
        more = replace(evidence, findings={**evidence.findings, i: tuple(weights)})
        yield chance_of(model, more) / chance_of(model, evidence), more


def chance_of(model: Model, evidence: Evidence) -> float:
    return float(np.exp(log_joint(model, evidence)).sum())


@settings(max_examples=60, deadline=None)
@given(data=st.data(), case=cases(most=7))
def test_gain_is_the_expected_fall_in_entropy(data: st.DataObject, case: Case) -> None:
    model, evidence = case.model(), data.draw(evidence_on(case))
    looks = [
        k for k in range(len(case.looks)) if k not in evidence.looks and k not in evidence.graded
    ]
    rows = {i: w for i, w in outcomes(case).items() if i not in evidence.findings}
    want = [
        by_trying(model, evidence, look_answers(case, model, evidence, look)) for look in looks
    ] + [
        by_trying(model, evidence, finding_answers(model, evidence, i, w)) for i, w in rows.items()
    ]
    if want:
        assert rank(model, evidence, looks, rows) == pytest.approx(want, abs=1e-9)


def test_information_agrees_with_a_library() -> None:
    """Against the mutual information of pyAgrum, one network of two variables a table."""
    draw = np.random.default_rng(5)
    roots = draw.dirichlet(np.ones(6))
    answers = [draw.dirichlet(np.ones(n), size=6) for n in (2, 3, 6)]
    want = []
    for table in answers:
        nodes = Node(CAUSE, (), roots), Node("answer", (CAUSE,), table)
        net = to_pyagrum(Encoding(nodes, frozenset(), np.arange(6), roots))
        inference = pyagrum.LazyPropagation(net)
        want.append(pyagrum.InformationTheory(inference, [CAUSE], ["answer"]).mutualInformationXY())
    joint = [(table * roots[:, None]).T for table in answers]
    starts = np.cumsum([0, *(len(t) for t in joint[:-1])]).tolist()
    assert information(np.concatenate(joint), starts) == pytest.approx(want)


def test_no_question_gains_less_than_nothing_or_more_than_there_is() -> None:
    model = synthetic.model(synthetic.HUNDRED)
    for seed in range(5):
        evidence = synthetic.evidence(model, 5, 10, seed)
        looks = [k for k in range(40) if k not in evidence.looks]
        rows = synthetic.outcomes(model.network)
        rows = {i: w for i, w in rows.items() if i not in evidence.findings}
        gains = rank(model, evidence, looks, rows)
        assert len(gains) == len(looks) + len(rows)
        left = entropy(by_root(model, posterior(model, evidence)))
        assert ((gains > -1e-12) & (gains <= left)).all()


def test_nothing_open_gives_no_gains() -> None:
    model = synthetic.model(
        synthetic.Size(areas=1, links=20, defect_links=20, looks=2, checks=5, readings=0)
    )
    gains = rank(model, Evidence(), [], {0: check_outcomes(0.1)})
    assert len(gains) == 1
    gains = rank(model, Evidence(), [1], {})
    assert len(gains) == 1
