"""The curve of a sieve table."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.grain import median_grain, passing, uniformity

SAND = {"30": 1.5, "40": 8.2, "50": 21.4, "70": 42.0, "100": 23.4, "140": 3.5}


def test_median_lies_where_half_has_passed() -> None:
    # 31.1 % lies on sieves down to No. 50 (0.300 mm), 73.1 % down to No. 70 (0.212 mm).
    assert 0.212 < median_grain(SAND) < 0.300
    assert passing(SAND, median_grain(SAND)) == pytest.approx(50)


def test_a_sand_of_one_sieve_is_uniform() -> None:
    assert uniformity({"70": 100.0}) == pytest.approx(100)
    # By hand: 77.0 % pass 4/3 of the median (0.342 mm), 12.4 % pass 2/3 of it (0.171 mm).
    assert uniformity(SAND) == pytest.approx(64.6, abs=0.1)


@given(st.floats(0.106, 3.0), st.floats(1.0, 2.0))
def test_a_wider_opening_never_passes_less(opening: float, wider: float) -> None:
    assert passing(SAND, opening * wider) >= passing(SAND, opening) - 1e-9


@given(st.sampled_from([("30", 0.600), ("40", 0.425), ("50", 0.300), ("70", 0.212)]))
def test_the_curve_goes_through_the_table(sieve: tuple[str, float]) -> None:
    label, opening = sieve
    order = list(SAND)
    coarser = sum(SAND[each] for each in order[: order.index(label) + 1])
    assert passing(SAND, opening) == pytest.approx(100 - coarser)


def test_below_the_finest_sieve_nothing_is_known() -> None:
    assert passing(SAND, 0.05) == 0
    with pytest.raises(OutOfRange, match="sieve finer"):
        passing({**SAND, "pan": 2.0}, 0.05)
    with pytest.raises(OutOfRange, match="sieve finer"):
        median_grain({"70": 30.0, "pan": 70.0})
