"""Dust and carbon monoxide over a shift."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.exposure import shift_average


@given(st.floats(0, 1000))
def test_a_level_met_all_shift_is_the_average(level: float) -> None:
    assert shift_average({"bench": level}, {"bench": 8.0}) == pytest.approx(level)


def test_a_long_shift_counts_in_full() -> None:
    assert shift_average({"bench": 40.0}, {"bench": 12.0}) == pytest.approx(60)


@pytest.mark.parametrize(
    ("level", "word"),
    [(30, "action level"), (60, "above the American limit"), (120, "above the British limit")],
)
def test_the_limit_passed_is_named(level: float, word: str) -> None:
    worked = calculations()["silica-exposure"].run(levels={"bench": level}, hours={"bench": 8})
    assert word in worked.warnings[0]
    assert "your own country's limit holds" in worked.warnings[-1]


def test_a_ceiling_is_told_even_when_the_average_is_low() -> None:
    worked = calculations()["carbon-monoxide-exposure"].run(
        levels={"cupola": 300, "bench": 2}, hours={"cupola": 0.1, "bench": 7.9}
    )
    assert worked.value < 20
    assert "ceiling of 200 ppm" in worked.warnings[0]


def test_tasks_must_match() -> None:
    with pytest.raises(OutOfRange, match="bench, mill: named in one table only"):
        shift_average({"bench": 40.0}, {"mill": 8.0})
    with pytest.raises(OutOfRange, match="hours in all: 26 h"):
        shift_average({"a": 1.0, "b": 1.0}, {"a": 13.0, "b": 13.0})
