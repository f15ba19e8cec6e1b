"""The benchmarks stand on what they draw: that has to be what the model says."""

from __future__ import annotations

import numpy as np
import pytest

from diagnose.engine.outlook import Outlook
from diagnose.engine.posterior import Evidence, by_root
from tests.bench import synthetic
from tests.bench.questions import calibration_error, made_up, reliability, shipped
from tests.bench.simulate import Works, draw_reject

DRAWS = 1500
FOUR_SIGMA = 4.0


def small() -> Works:
    model = synthetic.model(synthetic.HUNDRED)
    outcomes = synthetic.outcomes(model.network)
    looks = tuple(range(len(model.looks)))
    minutes = np.ones(len(looks) + len(outcomes))
    return Works("small", model, minutes, outcomes, looks, lambda _look, _answers: True)


def close(counted: np.ndarray, expected: np.ndarray) -> bool:
    spread = np.sqrt(expected * (1.0 - expected) / DRAWS) + 1e-9
    return bool((np.abs(counted - expected) < FOUR_SIGMA * spread + 2.0 / DRAWS).all())


def test_simulated_rejects_follow_the_model() -> None:
    """Roots, look answers and findings come as often as the engine expects them at rest."""
    works, draw = small(), np.random.default_rng(3)
    model = works.model
    rejects = [draw_reject(works, draw) for _ in range(DRAWS)]
    prior = np.exp(model.log_prior)
    roots = np.bincount([r.root for r in rejects], minlength=len(model.root_number)) / DRAWS
    assert close(roots, by_root(model, prior))
    for k in range(0, len(model.looks), 7):
        expected = np.exp(model.looks[k].log_likelihood) @ prior
        counted = np.bincount([r.looks[k] for r in rejects], minlength=len(expected)) / DRAWS
        assert close(counted, expected)
    by_pattern = np.bincount(model.pattern_of_account, prior, model.patterns)
    expected = Outlook(model, Evidence()).expected(works.outcomes) @ by_pattern
    for i, rows in works.outcomes.items():
        shown = [rows.tolist().index(list(r.findings[i])) for r in rejects]
        assert close(np.bincount(shown, minlength=len(rows)) / DRAWS, rows @ expected[i])


def test_the_benchmark_network_has_the_size_it_claims() -> None:
    model = synthetic.model(synthetic.Size())
    assert model.network.conditions == 250
    assert len(model.network.links) == 357
    assert len(model.log_prior) == 3055
    assert model.patterns == 439
    assert (len(model.looks), len(model.seats)) == (150, 150)
    assert model.largest_clique == 8


@pytest.mark.parametrize("works", [shipped(), made_up()], ids=lambda works: works.name)
def test_every_question_has_its_minutes(works: Works) -> None:
    assert len(works.minutes) == len(works.model.looks) + len(works.outcomes)
    assert (works.minutes > 0.0).all()


def test_a_well_calibrated_forecast_has_no_error() -> None:
    said = [(0.7, True)] * 7 + [(0.7, False)] * 3 + [(0.9, True)] * 9 + [(0.9, False)]
    assert calibration_error(said) == pytest.approx(0.0)
    assert [row[1] for row in reliability(said)] == [10, 10]
    assert calibration_error([(0.9, False)] * 5) == pytest.approx(0.9)
