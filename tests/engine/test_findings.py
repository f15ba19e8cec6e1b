"""Likelihoods of checks and readings, against the sentences that describe them."""

from __future__ import annotations

from itertools import product
from math import inf, sqrt
from statistics import NormalDist, fmean

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.engine.findings import (
    Weights,
    bands,
    check_outcomes,
    check_weights,
    reading_outcomes,
    reading_weights,
)

figure = st.floats(0.0, 1.0)


def value(weights: Weights, a: float, b: float) -> float:
    """The likelihood where no low condition shows with chance a, no high one with chance b."""
    return float(np.dot(weights, (1.0, a, b, a * b)))


@given(alarm=figure, missed=figure)
def test_a_check_is_a_noisy_or_with_its_false_alarm_as_leak(alarm: float, missed: float) -> None:
    quiet = (1.0 - alarm) * missed
    assert value(check_weights(True, alarm), missed, 1.0) == pytest.approx(1.0 - quiet)
    assert value(check_weights(False, alarm), missed, 1.0) == pytest.approx(quiet)


@given(
    cut=st.tuples(figure, figure),
    sides=st.tuples(st.booleans(), st.booleans()),
    stray=figure,
    odd=figure,
    quiet=st.tuples(figure, figure),
)
def test_a_reading_is_a_mixture_over_what_pushes_it(
    cut: tuple[float, float],
    sides: tuple[bool, bool],
    stray: float,
    odd: float,
    quiet: tuple[float, float],
) -> None:
    """Pushed low, high, both (they cancel) or not at all; and an odd sample says nothing."""
    first, second = sorted(cut)
    chances = (first, second - first, 1.0 - second)
    told = [odd / 3 + (1.0 - odd) * p for p in chances]
    pushed = [
        1.0 - q * (1.0 - stray) if side else 1.0 - q for q, side in zip(quiet, sides, strict=True)
    ]
    want = 0.0
    for low, high in product((True, False), repeat=2):
        chance = (pushed[0] if low else 1 - pushed[0]) * (pushed[1] if high else 1 - pushed[1])
        want += chance * (told[1] if low == high else told[0] if low else told[2])
    got = value(reading_weights(chances, sides, stray, odd), *quiet)
    assert got == pytest.approx(want, abs=1e-12)


@given(cut=st.tuples(figure, figure), odd=st.floats(0.01, 1.0))
def test_no_reading_proves_more_than_the_odd_sample_lets_it(
    cut: tuple[float, float], odd: float
) -> None:
    first, second = sorted(cut)
    weights = reading_weights((first, second - first, 1 - second), (True, True), 0.05, odd)
    for a, b in product((0.0, 1.0), repeat=2):
        assert odd / 3 - 1e-12 <= value(weights, a, b) <= 1.0 - 2.0 * odd / 3 + 1e-12


@given(
    values=st.lists(st.floats(-50.0, 50.0), min_size=1, max_size=5),
    low=st.floats(-20.0, 0.0),
    high=st.floats(0.0, 20.0),
    sd=st.floats(0.01, 10.0),
)
def test_bands_are_those_of_the_normal_distribution(
    values: list[float], low: float, high: float, sd: float
) -> None:
    """Against statistics.NormalDist of the standard library."""
    error = NormalDist(fmean(values), sd / sqrt(len(values)))
    want = (error.cdf(low), error.cdf(high) - error.cdf(low), 1.0 - error.cdf(high))
    assert bands(values, low, high, sd) == pytest.approx(want, abs=1e-9)


def test_an_open_end_has_no_band() -> None:
    assert bands([5.0], None, 4.0, 0.1)[0] == 0.0
    assert bands([5.0], 4.0, None, 0.1)[2] == 0.0
    assert bands([5.0], None, inf, 0.1) == (0.0, 1.0, 0.0)


def test_a_reading_without_error_is_on_one_side_or_the_other() -> None:
    assert bands([5.0], 2.0, 4.0, 0.0) == (0.0, 0.0, 1.0)
    assert bands([3.0], 2.0, 4.0, 0.0) == (0.0, 1.0, 0.0)


@given(alarm=figure, stray=figure, odd=figure, sides=st.tuples(st.booleans(), st.booleans()))
def test_all_outcomes_together_are_certain(
    alarm: float, stray: float, odd: float, sides: tuple[bool, bool]
) -> None:
    for outcomes in (check_outcomes(alarm), reading_outcomes(sides, stray, odd)):
        np.testing.assert_allclose(outcomes.sum(axis=0), [1.0, 0.0, 0.0, 0.0], atol=1e-12)
