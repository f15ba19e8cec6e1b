"""The choice of steps against full enumeration of all plans, and against what must always hold."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.engine.troubleshoot import (
    Trouble,
    choose,
    one_ahead,
    remaining,
    trials,
    try_order,
)
from tests.bench.small_troubles import best, by_information, by_plan, draw_trouble, followed


def drawn(seed: int, causes: int = 4, steps: int = 4, rest: float = 0.05) -> Trouble:
    return draw_trouble(np.random.default_rng(seed), causes, steps, rest)


def test_the_plan_costs_hardly_more_than_the_best_of_all() -> None:
    """At most a tenth more than full enumeration on average, and less than by information."""
    plan, information = [], []
    for seed in range(8):
        trouble = drawn(seed)
        least = best(trouble, 0)
        plan.append(followed(trouble, 0, by_plan) / least)
        information.append(followed(trouble, 0, by_information) / least)
    assert min(plan) >= 1.0 - 1e-9
    assert float(np.mean(plan)) <= 1.1
    assert float(np.mean(plan)) < float(np.mean(information))


@settings(max_examples=20)
@given(st.integers(0, 10_000))
def test_trying_alone_goes_by_chance_over_minutes(seed: int) -> None:
    """Against every order of trying and giving up at any point: the known optimum."""
    trouble = drawn(seed, causes=3, steps=1)
    least = trouble.giving_up
    for order in permutations(range(3)):
        spent, left = 0.0, 1.0
        for c in order:
            spent += left * float(trouble.trial[c])
            left -= float(trouble.chance[c])
            least = min(least, spent + left * trouble.giving_up)
    assert try_order(trouble, trouble.chance) == pytest.approx(least)


@settings(max_examples=20)
@given(st.integers(0, 10_000))
def test_what_remains_is_never_more_than_giving_up_nor_less_than_the_trial(seed: int) -> None:
    trouble = drawn(seed)
    left = float(remaining(trouble, trouble.chance[None], 0)[0])
    assert left <= trouble.giving_up + 1e-9
    known = trouble.shares(trouble.chance) @ trouble.trial
    assert left >= min(float(known), trouble.giving_up) - 1e-9


def test_a_sure_cause_is_put_right_and_nothing_is_asked() -> None:
    trouble = drawn(1)
    sure = replace(trouble, chance=np.array([0.0, 1.0, 0.0, 0.0, 0.0]))
    choice = choose(sure, 0, range(4))
    assert (choice.step, choice.correction) == (-1, 1)
    assert choice.minutes == pytest.approx(float(trouble.trial[1]))


def test_where_nothing_is_cured_all_is_given_up() -> None:
    trouble = replace(drawn(1), chance=np.array([0.0, 0.0, 0.0, 0.0, 1.0]))
    choice = choose(trouble, 0, range(4))
    assert (choice.step, choice.correction, choice.minutes) == (-1, -1, trouble.giving_up)


def test_walking_is_paid_only_where_the_next_step_is_elsewhere() -> None:
    trouble = drawn(3)
    for here in range(3):
        walked = trouble.cost(here) - trouble.minutes
        assert walked.tolist() == [trouble.walk * (place != here) for place in trouble.place]


def test_of_two_steps_alike_the_one_at_hand_is_taken() -> None:
    trouble = drawn(2)
    twice = replace(
        trouble,
        told=np.stack([trouble.told[0], trouble.told[0]]),
        minutes=np.array([3.0, 3.0]),
        place=np.array([1, 2]),
    )
    after = one_ahead(twice, twice.chance[None], 2)[0] - twice.cost(2)
    assert twice.cost(2)[1] < twice.cost(2)[0]
    choice = choose(twice, 2, range(2))
    assert choice.step in (-1, 1)
    assert np.isfinite(after).all()


def test_where_all_has_failed_nothing_is_tried_again() -> None:
    trouble = drawn(4, rest=0.0)
    for correction in range(trouble.corrections):
        trouble = trouble.after_failing(correction)
    assert choose(trouble, 0, range(4)).correction == -1


def test_a_failed_trial_leaves_the_others_in_proportion() -> None:
    trouble = drawn(5)
    after = trouble.after_failing(0).chance
    assert after[0] == 0.0
    assert after.sum() == pytest.approx(1.0)
    assert after[1:] / after[1:].sum() == pytest.approx(
        trouble.chance[1:] / trouble.chance[1:].sum()
    )
    assert all(minutes > 0.0 for _, minutes in trials(trouble, 0))
