"""Curves fitted on what training never saw, against a general-purpose optimiser (scipy)."""

from __future__ import annotations

import numpy as np
from scipy.optimize import minimize

from diagnose.words.training.calibrate import RIDGE, curve_of, fitted
from diagnose.words.training.corpus import Example


def loss(weights: np.ndarray, x: np.ndarray, said: np.ndarray) -> float:
    score = np.column_stack([x, np.ones(len(x))]) @ weights
    return float(np.logaddexp(0, score).sum() - score[said].sum() + RIDGE / 2 * weights @ weights)


def test_the_fit_is_that_of_a_general_optimiser() -> None:
    draw = np.random.default_rng(3)
    x = draw.normal(size=(400, 3))
    said = draw.random(400) < 1 / (1 + np.exp(-(x @ [1.5, -0.5, 0.2] - 0.7)))
    theirs = minimize(loss, np.zeros(4), args=(x, said), method="BFGS").x
    np.testing.assert_allclose(fitted(x, said), theirs, atol=1e-3)


def test_what_may_be_taken_raises_the_height_of_the_curve_and_not_its_direction() -> None:
    """Of two classes, one is said and the other may be; the third is wrong."""
    draw = np.random.default_rng(5)
    classes = ["a=1", "b=1", "c=1"]
    strict = [Example(f"t{n}", "remark", ("a=1",), ()) for n in range(300)]
    fair = [Example(f"t{n}", "remark", ("a=1",), ("b=1",)) for n in range(300)]
    logits = [draw.normal([2.0, 1.0, -2.0], 1.0)[None, :] for _ in range(300)]
    table = np.array([[1.0, 6.0, 0.0]])
    assert curve_of(classes, fair, logits, "answers")(table) > curve_of(
        classes, strict, logits, "answers"
    )(table)
