"""Run rules: what each marks, and how often by chance."""

from __future__ import annotations

import numpy as np
import pytest

from diagnose.batch.statistics import rules
from diagnose.batch.statistics.rules import run_chance, run_rules
from tests.batch.statistics import published


def marked(off: list[float], rule: str, **settings: int) -> list[int]:
    return np.flatnonzero(run_rules(np.array(off), **settings)[rule]).tolist()


def test_each_rule_marks_the_point_that_completes_it() -> None:
    assert marked([0, 3.1, -3.1, 3.0], rules.BEYOND) == [1, 2]
    assert marked([0.1] * 10, rules.ONE_SIDE) == [8, 9]
    assert marked([0.1] * 8, rules.ONE_SIDE, one_side=8) == [7]
    assert marked([0.1] * 5 + [0.0] + [0.1] * 5, rules.ONE_SIDE) == []
    assert marked([0, 0.1, 0.2, 0.3, 0.4, 0.5], rules.TREND) == [5]
    assert marked([0.5, 0.1, 0.2, 0.3, 0.4, 0.45], rules.TREND) == []
    assert marked([(-1) ** i * 0.5 for i in range(14)], rules.ZIGZAG) == [13]
    assert marked([(-1) ** i * 0.5 for i in range(13)], rules.ZIGZAG) == []
    assert marked([2.1, 0, 2.2, 0], rules.TWO_OF_THREE) == [2]
    assert marked([2.1, 0, -2.2], rules.TWO_OF_THREE) == []
    assert marked([1.1, 1.2, 0, 1.3, 1.1], rules.FOUR_OF_FIVE) == [4]


def test_points_of_a_published_test_suite() -> None:
    # d3-nelson-rules (53seven), tests of rules 7 and 8: 15 points of 0 and 1 in turn with a 1 on
    # the line are marked there; here a point on one sigma is not within it, so 0.9 stands for 1.
    inside = [0, 0.9] * 7 + [0]
    assert marked(inside, rules.HUGGING) == [14]
    assert marked([0, 0.9, 0, 0.9, 0.9, 2, 0.9] + [0, 0.9] * 4, rules.HUGGING) == []
    assert marked([2, 4, 2, -4, 6, -10, 7, 2], rules.SHUNNING) == [7]
    assert marked([2, 0, 2, -4, 6, 0, 7, 2], rules.SHUNNING) == []


def test_many_charts_at_once_are_each_as_alone() -> None:
    off = np.random.default_rng(2).normal(size=(5, 4, 40))
    together = run_rules(off)
    for name, found in together.items():
        assert found.shape == off.shape
        assert (found[3, 2] == run_rules(off[3, 2])[name]).all()


def test_false_alarms_of_the_rules() -> None:
    # Beyond three sigma: 0.27 of a hundred. Nine on one side: 2 / 2^9. Champ and Woodall
    # (Technometrics 29, 1987) give a run to a false alarm of 91.75 for rules 1, 5, 6 and eight on
    # one side together (from memory).
    off = np.random.default_rng(7).normal(size=(4000, 200))
    found = run_rules(off, one_side=8)
    assert found[rules.BEYOND].mean() == pytest.approx(0.0027, abs=3e-4)
    assert run_rules(off)[rules.ONE_SIDE][:, 8:].mean() == pytest.approx(2 / 2**9, abs=4e-4)
    western = (rules.BEYOND, rules.TWO_OF_THREE, rules.FOUR_OF_FIVE, rules.ONE_SIDE)
    any_of = np.any([found[x] for x in western], axis=0)
    first = np.where(any_of.any(axis=1), any_of.argmax(axis=1) + 1, np.nan)
    # Truncated at 200 points: the share of charts without an alarm, of a geometric law's.
    assert np.isnan(first).mean() == pytest.approx(np.exp(-200 / 91.75), abs=0.03)


def test_run_is_as_rare_as_its_length_says() -> None:
    off = np.array([-0.5, 0.2, 0.3, 0.1, 0.0, 0.4])
    half = np.full(6, 0.5)
    chance = run_chance(off, half, half)
    assert chance.tolist() == pytest.approx([1, 1, 0.5, 0.25, 1, 1])
    # Where most points are 0, a run of zeros is no wonder.
    assert run_chance(-np.ones(9), np.full(9, 0.4), np.full(9, 0.6))[-1] == pytest.approx(
        2 * 0.6**9
    )


def test_montgomerys_cans_break_the_rules_they_are_said_to() -> None:
    from diagnose.batch.statistics.limits import standardised

    off = standardised(published.CANS, np.full(30, 50.0), "p")
    assert (np.flatnonzero(run_rules(off)[rules.BEYOND]) + 1).tolist() == [15, 23]
