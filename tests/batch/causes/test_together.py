"""Groups that share one shop, held against plain enumeration of every joint state."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.batch.causes.cells import Cells, cell_weights, cells_of, own_weights, to_accounts
from diagnose.batch.causes.chain import sampled
from diagnose.batch.causes.together import Joint, together
from diagnose.batch.causes.unions import Unions
from diagnose.engine.model import Model
from diagnose.engine.posterior import Evidence, posterior
from tests.batch.causes.enumeration import joint_posterior
from tests.engine.enumeration import Weights
from tests.engine.small_networks import Case, cases

SIX_ACCOUNTS = 6


class Trial:
    """A small network with the looks of a few groups, and findings of their shop."""

    def __init__(self, case: Case, groups: int, findings: dict[int, Weights], seed: int) -> None:
        self.case, self.findings = case, findings
        draw = np.random.default_rng(seed)
        self.model: Model = case.model()
        self.looks = np.log(draw.uniform(0.02, 1.0, (groups, len(case.network.sets))))
        self.unions = Unions(self.model, findings)
        self.cells: Cells = cells_of(self.model, self.unions)
        self.own = [own_weights(self.model, self.cells, look) for look in self.looks]
        self.weights = [cell_weights(self.cells, own) for own in self.own]

    def enumerated(self) -> tuple[np.ndarray, np.ndarray]:
        own = [np.exp(one) for one in self.own]
        return joint_posterior(self.case.network, self.case.figures, own, self.findings)

    def worked(self) -> Joint:
        return together(self.cells, self.unions, self.weights)

    def accounts(self, joint: Joint) -> np.ndarray:
        pairs = zip(self.own, joint.groups, strict=True)
        return np.array([to_accounts(self.cells, own, mine) for own, mine in pairs])


@st.composite
def trials(draw: st.DrawFn, groups: int, with_findings: bool) -> Trial:
    case = draw(cases(most=6))
    weights = st.tuples(st.floats(0.05, 1.0), st.floats(0.0, 0.9))
    findings: dict[int, Weights] = {}
    if with_findings:
        for i in range(len(case.network.findings)):
            clear, false = draw(weights)
            findings[i] = (clear, -clear * false, 0.0, 0.0)
    return Trial(case, groups, findings, draw(st.integers(0, 1000)))


def agrees(trial: Trial, joint: Joint, within: float) -> None:
    groups, at_work = trial.enumerated()
    assert np.allclose(trial.accounts(joint), groups, atol=within)
    assert np.allclose(joint.at_work, at_work, atol=within)


@settings(max_examples=40, deadline=None)
@given(trials(groups=1, with_findings=True))
def test_one_group_is_as_one_reject(trial: Trial) -> None:
    joint = trial.worked()
    looks = replace(trial.case, looks=(np.exp(trial.looks[0])[np.newaxis],)).model()
    alone = posterior(looks, Evidence({0: (0,)}, trial.findings))
    assert np.allclose(trial.accounts(joint)[0], alone, atol=1e-9)
    agrees(trial, joint, 1e-9)


@settings(max_examples=40, deadline=None)
@given(trials(groups=2, with_findings=True))
def test_two_groups_with_findings_are_exact(trial: Trial) -> None:
    joint = trial.worked()
    assert joint.exact
    agrees(trial, joint, 1e-9)


@settings(max_examples=30, deadline=None)
@given(trials(groups=3, with_findings=False))
def test_three_groups_without_findings_are_exact(trial: Trial) -> None:
    joint = trial.worked()
    assert joint.exact
    agrees(trial, joint, 1e-9)


SAMPLED_ERROR = 0.05
"""How far a probability from two chains of 400 sweeps may be off (0.026 at most in 60 networks)."""


@settings(max_examples=15, deadline=None, derandomize=True)
@given(trials(groups=3, with_findings=True))
def test_three_groups_with_findings_are_sampled_within_the_stated_error(trial: Trial) -> None:
    joint = sampled(trial.cells, trial.unions, trial.weights, seed=1)
    assert not joint.exact
    agrees(trial, joint, SAMPLED_ERROR)
