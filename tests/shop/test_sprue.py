"""The sprue: falling metal, dimensions and tapers."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.sprue import speed_after_fall, sprue_bottom, sprue_taper

UNITS = pint.UnitRegistry()
LENGTH = st.floats(20, 1000)


def test_half_a_metre_a_second_is_a_fall_of_half_an_inch() -> None:
    # Worked out from the limit that was read: 12.7 mm.
    assert speed_after_fall(UNITS.Quantity(0.5, "inch").to("mm").magnitude) == pytest.approx(
        500, abs=1.5
    )


@given(LENGTH, LENGTH)
def test_falls_add_up(first: float, second: float) -> None:
    once = speed_after_fall(first + second)
    assert speed_after_fall(second, speed_after_fall(first)) == pytest.approx(once)


@given(st.floats(20, 5000), st.floats(5, 200), LENGTH)
def test_taper_passes_one_flow_at_both_ends(top: float, basin: float, length: float) -> None:
    flow = top * speed_after_fall(basin) / 1000
    assert sprue_taper(top, basin, length) == pytest.approx(sprue_bottom(flow, length, basin))
    assert sprue_taper(top, basin, length) < top


@given(st.floats(1, 5000), LENGTH, st.floats(1, 300))
def test_the_basin_counts(flow: float, length: float, basin: float) -> None:
    assert sprue_bottom(flow, length, basin) < sprue_bottom(flow, length)


def test_dropped_basin_is_the_published_slip() -> None:
    # 12 in sprue with 3 in of basin at 40 in3/s: 0.688 in, where an answer page has 0.725.
    flow = UNITS.Quantity(40, "inch**3/s").to("cm**3/s").magnitude
    right = sprue_bottom(flow, 304.8, 76.2)
    wrong = sprue_bottom(flow, 304.8)
    across = [math.sqrt(4 * area / math.pi) / 25.4 for area in (right, wrong)]
    assert across == pytest.approx([0.688, 0.727], abs=0.001)


def test_words_on_the_basin_and_nonsense() -> None:
    one = calculations()["sprue-foot"]
    assert any("it counts" in words for words in one.run(flow=500, length=150).warnings)
    assert not any(
        "it counts" in words for words in one.run(flow=500, length=150, basin=50).warnings
    )
    with pytest.raises(OutOfRange, match="fall"):
        speed_after_fall(-1)
    with pytest.raises(OutOfRange, match="basin"):
        sprue_taper(300, 0, 200)
