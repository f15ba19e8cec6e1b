"""Pouring time: every rule under its name, and no bare figure where they disagree."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.pouring import (
    by_root,
    by_section,
    grey_rule,
    heavy_grey,
    light_grey,
    second_opinion,
    steel,
)

WEIGHT = st.floats(0.5, 2000)
SECTION = st.floats(3, 100)


@given(WEIGHT, SECTION, st.floats(1.01, 3))
def test_more_metal_and_thicker_walls_pour_longer(
    weight: float, section: float, scale: float
) -> None:
    for rule in (light_grey, heavy_grey, by_section):
        assert rule(weight * scale, section) > rule(weight, section)
        assert rule(weight, section * scale) > rule(weight, section)
    assert by_root(weight * scale) > by_root(weight)


def test_the_rule_jumps_at_450_kg_and_says_so() -> None:
    # Worked out from the sheet that was read: 51.7 s against 16.4 s with K = 1 and 15 mm.
    assert light_grey(450, 15, 40) == pytest.approx(51.7, abs=0.05)
    assert heavy_grey(450, 15, 40) == pytest.approx(16.4, abs=0.05)
    for weight, rule in ((440, "light rule"), (460, "heavy rule")):
        worked = calculations()["pouring-time"].run(weight=weight, section=15)
        assert rule in worked.working[0]
        assert any("jumps at 450 kg" in words for words in worked.warnings)


def test_the_four_fold_conflict_is_told() -> None:
    # Two rules that were read, 500 kg and 20 mm: 13.5 s against 56.7 s.
    worked = calculations()["pouring-time"].run(weight=500, section=20)
    assert worked.value == pytest.approx(13.5, abs=0.1)
    assert by_section(500, 20) / worked.value == pytest.approx(4.2, abs=0.05)
    assert any("4.2-fold apart" in words for words in worked.warnings)


def test_the_rule_is_always_named() -> None:
    for weight in (2, 20, 449, 451, 5000):
        worked = calculations()["pouring-time"].run(weight=weight, section=12)
        assert grey_rule(weight) in worked.working[0]
        assert grey_rule(weight) in worked.warnings[0]
        assert second_opinion(weight, 12)[0] in worked.working[-1]


def test_small_work_carries_no_warning_of_the_jump() -> None:
    worked = calculations()["pouring-time"].run(weight=20, section=15)
    assert not any("jumps" in words for words in worked.warnings)
    assert any("molten iron" in words for words in worked.warnings)


def test_rules_outside_their_range_say_so() -> None:
    small = calculations()["pouring-time-by-section"].run(weight=20, section=15)
    assert any("450 to 1000" in words for words in small.warnings)
    big = calculations()["pouring-time-by-root"].run(weight=900)
    assert any("up to 450 kg" in words for words in big.warnings)
    with pytest.raises(OutOfRange, match="weight"):
        light_grey(0, 10)


@given(st.floats(0.5, 600), st.floats(0.5, 20))
def test_factor_there_and_back(weight: float, factor: float) -> None:
    time = by_root(weight, factor)
    if 0.5 <= time <= 600:
        found = calculations()["pouring-factor"].run(time=time, weight=weight)
        assert found.value == pytest.approx(factor)


def test_steel_rule_gives_out_before_its_time_would_be_negative() -> None:
    assert steel(1000) < steel(10000)
    with pytest.raises(OutOfRange, match="steel rule"):
        steel(2e6)
