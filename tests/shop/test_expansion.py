"""Volume on freezing: what helps and what robs the casting of metal."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.expansion import freezing_volume, swell

GREY = st.floats(0, 99)
SUPERHEAT = st.floats(0, 300)


@given(SUPERHEAT, GREY, st.floats(0.1, 1), st.floats(1, 50))
def test_graphite_helps_and_heat_robs(
    superheat: float, grey: float, more: float, hotter: float
) -> None:
    base = freezing_volume(superheat, grey)
    assert freezing_volume(superheat, grey + more) > base
    assert freezing_volume(superheat + hotter, grey) < base


@given(SUPERHEAT, GREY)
def test_stays_between_grey_and_white(superheat: float, grey: float) -> None:
    found = freezing_volume(superheat, grey) + superheat * 0.015
    assert -5.5 <= found <= 2.5


@given(st.floats(0, 2), st.floats(0.01, 1), st.floats(3, 200), st.floats(1, 50))
def test_soft_moulds_and_thin_walls_swell_more(
    movement: float, more: float, thickness: float, thicker: float
) -> None:
    assert swell(movement + more, thickness) > swell(movement, thickness)
    assert swell(movement, thickness + thicker) <= swell(movement, thickness)


def test_a_mould_that_gives_way_turns_growth_into_shortage() -> None:
    # Guide on risering (read): green sand counts as not rigid; swollen castings with shrinkage.
    one = calculations()["freezing-volume"]
    firm = one.run(superheat=100)
    soft = one.run(superheat=100, movement=0.3)
    assert firm.value > 0 > soft.value
    assert any("ramming" in words for words in soft.warnings)
    assert any("short of metal" in words for words in soft.warnings)
    assert not any("ramming" in words for words in firm.warnings)


def test_nonsense_is_refused() -> None:
    with pytest.raises(OutOfRange, match="share that freezes grey"):
        freezing_volume(100, 101)
    with pytest.raises(OutOfRange, match="thickness"):
        swell(0.3, 0)
