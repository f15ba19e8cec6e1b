"""Mass balances: exact, there and back."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.balance import (
    addition,
    addition_to_hold,
    dilution,
    dry_part,
    kept,
    level_after,
    level_after_rounds,
    renewal_to_hold,
    steady_level,
    water_to_add,
    water_to_drive_off,
)
from diagnose.shop.calculation import OutOfRange

batches = st.floats(10, 5000)
shares = st.floats(0, 15)


@given(batches, shares, shares, st.floats(0, 200), st.floats(0, 15))
def test_the_batch_ends_at_the_target(
    batch: float, moisture: float, more: float, extra: float, damp: float
) -> None:
    target = max(moisture, damp) + more
    water = water_to_add(batch, moisture, target, extra, damp)
    inside = batch * moisture / 100 + extra * damp / 100 + water
    assert inside / (batch + extra + water) * 100 == pytest.approx(target)


def test_the_water_counts_in_the_whole() -> None:
    # 200 kg from 2 to 3.5 %: the difference of 1.5 % alone would be 3.00 kg and leave it dry.
    assert water_to_add(200.0, 2.0, 3.5) == pytest.approx(3.10881, abs=1e-5)
    assert water_to_add(200.0, 2.0, 3.5) > 200 * 0.015


@given(batches, shares, shares)
def test_drying_undoes_watering(batch: float, moisture: float, more: float) -> None:
    water = water_to_add(batch, moisture, moisture + more)
    back = water_to_drive_off(batch + water, moisture + more, moisture)
    assert back == pytest.approx(water, abs=1e-6)


@given(batches, st.floats(0, 10), st.floats(0.01, 10), st.floats(40, 100), st.floats(0, 20))
def test_the_clay_ends_at_the_target(
    dry: float, level: float, more: float, strength: float, damp: float
) -> None:
    added = addition(dry, level, level + more, strength, damp)
    assert level_after(dry, level, added * (1 - damp / 100), strength) == pytest.approx(
        level + more
    )


@given(batches, st.floats(1, 20), st.floats(0.1, 0.99), st.floats(0, 0.5))
def test_new_sand_thins_to_the_target(
    dry: float, level: float, part: float, fresh_part: float
) -> None:
    target, fresh = level * part, level * part * fresh_part
    added = dilution(dry, level, target, fresh)
    assert level_after(dry, level, added, fresh) == pytest.approx(target)


rounds = st.floats(0.1, 5), st.floats(0.5, 30), st.floats(0, 40)


@given(*rounds)
def test_a_settled_sand_stays_settled(added: float, renewed: float, burnt: float) -> None:
    level = steady_level(added, renewed, burnt)
    assert kept(renewed, burnt) * level + added == pytest.approx(level)
    assert addition_to_hold(min(level, 100), renewed, burnt) <= added + 1e-9


@given(*rounds, st.floats(0, 20), st.integers(0, 60))
def test_the_formula_is_the_rounds_worked_one_by_one(
    added: float, renewed: float, burnt: float, start: float, count: int
) -> None:
    level = start
    for _ in range(count):
        level = kept(renewed, burnt) * level + added
    assert level_after_rounds(start, float(count), added, renewed, burnt) == pytest.approx(level)


@given(st.floats(1, 10), st.floats(0.01, 0.9))
def test_renewal_holds_what_grows(level: float, part: float) -> None:
    renewed = renewal_to_hold(level, level * part)
    assert steady_level(level * part, renewed) == pytest.approx(level)


def test_an_array_of_rounds() -> None:
    found = level_after_rounds(0.0, np.array([0.0, 1.0, 1000.0]), 0.2, 5.0)
    assert found == pytest.approx([0.0, 0.2, 4.0])


@pytest.mark.parametrize(
    ("work", "words"),
    [
        (lambda: water_to_add(200.0, 4.0, 3.5), "drier than the 4 % that is there"),
        (lambda: water_to_drive_off(200.0, 3.0, 3.5), "wetter than the 3 % that is there"),
        (lambda: addition(194.0, 8.0, 7.0), "cannot be reached from 8 %"),
        (lambda: addition(194.0, 7.0, 60.0, 50.0), "with an addition of 50 %"),
        (lambda: dilution(190.0, 4.0, 4.5), "cannot be reached from 4 %"),
        (lambda: dilution(190.0, 4.0, 0.3, 0.5), "with new sand of 0.5 %"),
        (lambda: steady_level(0.2, 0.0), "lost each round: 0 %"),
        (lambda: dry_part(-1.0, 3.0), "batch: -1 kg"),
        (lambda: dry_part(200.0, 120.0), "moisture: 120 %"),
    ],
)
def test_what_cannot_be_is_said(work: object, words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        work()  # type: ignore[operator]
