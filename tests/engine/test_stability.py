"""Shaking the figures: several sets of them at once must be as good as one after the other."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.engine.looktable import LookTable
from diagnose.engine.model import Model
from diagnose.engine.network import Figures
from diagnose.engine.posterior import Evidence, log_findings
from diagnose.engine.stability import (
    SHAKE,
    Kept,
    first_draws,
    first_roots,
    shaken,
    shaken_figures,
    shaken_findings,
    shaken_looks,
)
from tests.engine.small_networks import Case, cases, evidence_on


def one_set(figures: Figures, run: int) -> Figures:
    return Figures(
        figures.leak[run],
        figures.strength[run],
        tuple(side[run] for side in figures.low),
        tuple(side[run] for side in figures.high),
    )


@settings(max_examples=40, deadline=None)
@given(data=st.data(), case=cases(most=7))
def test_many_sets_of_figures_agree_with_one_at_a_time(data: st.DataObject, case: Case) -> None:
    evidence = Evidence({}, data.draw(evidence_on(case)).findings)
    seed = data.draw(st.integers(0, 1000))
    figures = shaken_figures(case.figures, 3, np.random.default_rng(seed))
    few = shaken_figures(case.figures, 3, np.random.default_rng(seed), sorted(evidence.findings))
    together = shaken_findings(case.network, few, evidence)
    for run in range(3):
        model = Model(case.network, one_set(figures, run), np.log(case.prior), [])
        alone = log_findings(model, evidence)[model.pattern_of_account]
        np.testing.assert_allclose(np.exp(together[run]), np.exp(alone), rtol=1e-7, atol=1e-12)


def test_figures_are_shaken_in_their_log_odds() -> None:
    figures = np.array([0.003, 0.1, 0.5, 0.92])
    moved = shaken(figures, 4000, np.random.default_rng(1))
    steps = np.log(moved / (1 - moved)) - np.log(figures / (1 - figures))
    assert steps.mean(axis=0) == pytest.approx(np.zeros(4), abs=4 * SHAKE / np.sqrt(4000))
    assert steps.std(axis=0) == pytest.approx(np.full(4, SHAKE), rel=0.05)


def test_what_is_certain_stays_certain() -> None:
    moved = shaken(np.array([0.0, 1.0]), 50, np.random.default_rng(1))
    assert (moved[:, 0] == 0.0).all()
    assert moved[:, 1] == pytest.approx(1.0, abs=1e-9)


def test_looks_are_shaken_for_each_table_and_shared_by_its_accounts() -> None:
    rows = np.array([[0.7, 0.3], [0.2, 0.8]])
    logs = shaken_looks(
        [(LookTable(rows, np.array([0, 1, 0])), (0.0, 1.0))], 6, np.random.default_rng(1)
    )
    assert logs.shape == (6, 3)
    assert (logs[:, 0] == logs[:, 2]).all()
    assert (logs[:, 0] != logs[:, 1]).any()


def test_the_first_root_is_that_with_most_probability() -> None:
    """Two accounts of one root together outweigh the best single account."""
    joint = np.log([[0.3, 0.3, 0.4], [0.2, 0.1, 0.7]])
    assert first_roots(joint, np.array([0, 0, 1])).tolist() == [0, 1]


@pytest.mark.parametrize("kept", [0, 7, 1000])
def test_kept_draws_are_those_of_the_generator(kept: int) -> None:
    ours, numpys = Kept(5, first_draws(5, kept)), np.random.default_rng(5)
    for shape in ((3, 4), (2, 1, 5), 9, (0, 3), (32, 11)):
        np.testing.assert_array_equal(ours.standard_normal(shape), numpys.standard_normal(shape))
