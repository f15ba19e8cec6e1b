"""Liquidus and eutectic: the published coefficients, and what one element costs."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.liquidus import FALL, eutectic, liquidus, liquidus_equivalent

IRON = {"carbon": 3.3, "silicon": 2.0, "manganese": 0.6, "phosphorus": 0.05, "sulphur": 0.08}


@pytest.mark.parametrize(
    ("element", "printed"),
    # Carbon equivalent by saturation and by liquidus, AFS 2020 (read): as printed, sulphur cut
    # short.
    [
        ("silicon", 0.23),
        ("manganese", -0.03),
        ("phosphorus", 0.32),
        ("sulphur", 0.64),
        ("nickel", 0.02),
        ("chromium", 0.06),
    ],
)
def test_equivalent_has_the_printed_shares(element: str, printed: float) -> None:
    found = liquidus_equivalent(3.0, **{"silicon": 0.0, element: 1.0}) - 3.0
    assert found == pytest.approx(printed, abs=0.006)


def test_a_tenth_of_carbon_costs_eleven_degrees_of_superheat() -> None:
    # By the rule that was read: 0.1 % C is worth 11 K, 0.1 % Si 2.5 K.
    assert liquidus(3.2, 2.0) - liquidus(3.3, 2.0) == pytest.approx(11.0)
    assert liquidus(3.3, 1.9) - liquidus(3.3, 2.0) == pytest.approx(2.5)


def test_meets_the_eutectic_where_the_textbooks_have_it() -> None:
    # Graphite of plain iron-carbon freezes between 1145 and 1152 degC (Microscopy Today, read).
    assert 1145 <= liquidus(4.3, 0.0) <= 1152.001
    assert eutectic(0.0) == pytest.approx(1152, abs=1.5)


@given(st.floats(2.8, 3.6), st.floats(1.0, 2.6), st.sampled_from(sorted(FALL)))
def test_all_but_manganese_lower_it(carbon: float, silicon: float, element: str) -> None:
    iron = {"carbon": carbon, "silicon": silicon}
    more = {**iron, element: iron.get(element, 0.0) + 0.1}
    lowered = liquidus(**iron) - liquidus(**more)
    assert lowered == pytest.approx(FALL[element] / 10)
    assert (lowered > 0) == (element != "manganese")


@given(st.floats(0.1, 4.0))
def test_silicon_parts_the_two_eutectics(silicon: float) -> None:
    assert eutectic(silicon) > eutectic(silicon, "white")
    assert eutectic(silicon + 0.1) > eutectic(silicon)
    assert eutectic(silicon + 0.1, "white") < eutectic(silicon, "white")


def test_a_series_gives_a_series() -> None:
    found = liquidus(np.array([3.3, 3.0]), np.array([2.0, 1.5]))
    assert found == pytest.approx([liquidus(3.3, 2.0), liquidus(3.0, 1.5)])


def test_says_when_the_rule_does_not_hold() -> None:
    past = calculations()["liquidus"].run(carbon=4.2, silicon=2.5)
    assert any("past the eutectic" in words for words in past.warnings)
    assert not calculations()["liquidus"].run(**IRON).warnings
    with pytest.raises(OutOfRange, match="grey or white"):
        eutectic(2.0, "mottled")


def test_working_shows_every_element() -> None:
    working = calculations()["liquidus"].run(**IRON).working
    assert working[1] == (
        "= 1625 - 110 x 3.3 - 25 x 2 + 3 x 0.6 - 35 x 0.05 - 71 x 0.08 - 2 x 0 - 7 x 0"
    )
    assert working[2] == "= 1206 degC"
