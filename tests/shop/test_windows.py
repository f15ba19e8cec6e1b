"""Windows of sand readings."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.windows import HARDNESS, STRENGTH, WAYS, outside, share_inside

windows = st.tuples(st.floats(0, 50), st.floats(50, 200))


@given(st.floats(0, 300), windows)
def test_what_misses_is_put_right_by_what_it_misses(
    reading: float, window: tuple[float, float]
) -> None:
    miss = outside(reading, window)
    low, high = window
    assert (miss == 0) == (low <= reading <= high)
    assert outside(reading - miss, window) == pytest.approx(0, abs=1e-9)


def test_an_array_of_readings() -> None:
    assert share_inside(np.array([60.0, 70.0, 85.0, 100.0, 101.0]), (70.0, 100.0)) == 0.6


def test_harder_ways_want_stronger_sand() -> None:
    for table in (STRENGTH, HARDNESS):
        assert list(table) == list(WAYS)
        lows = [window[0] for window in table.values()]
        assert lows == sorted(lows)


@pytest.mark.parametrize(
    ("name", "values", "value", "word"),
    [
        ("strength-window", {"strength": 60, "way": "machine"}, -10, "weak sand"),
        ("strength-window", {"strength": 85, "way": "hand"}, 5, "strong for this way"),
        ("hardness-window", {"hardness": 60, "way": "machine"}, -10, "soft spots"),
        ("hardness-window", {"hardness": 97, "way": "high-pressure"}, 2, "hard spots"),
        ("compactability-window", {"compactability": 30}, -5, "too dry"),
        ("compactability-window", {"compactability": 55}, 5, "too wet"),
    ],
)
def test_a_miss_is_told_with_its_fault(
    name: str, values: dict[str, float | str], value: float, word: str
) -> None:
    worked = calculations()[name].run(**values)
    assert worked.value == pytest.approx(value)
    assert any(each.startswith(word) for each in worked.warnings)


def test_memory_is_not_dressed_as_a_source() -> None:
    for name, values in (
        ("strength-window", {"strength": 80, "way": "machine"}),
        ("hardness-window", {"hardness": 80, "way": "machine"}),
    ):
        worked = calculations()[name].run(**values)
        assert worked.value == 0
        assert "from memory" in worked.source
        assert "from memory" in worked.warnings[0]


def test_a_window_upside_down() -> None:
    with pytest.raises(OutOfRange, match="upside down"):
        outside(5.0, (10.0, 1.0))
