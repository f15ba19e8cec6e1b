"""The cooling cup: what goes in as an analysis comes out of its arrests."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.arrest import (
    carbon_from_arrests,
    equivalent_from_arrest,
    silicon_from_arrest,
)
from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.liquidus import eutectic, liquidus, liquidus_equivalent


@given(st.floats(2.8, 3.7), st.floats(0.5, 3.0), st.floats(5.0, 15.0))
def test_there_and_back(carbon: float, silicon: float, undercooling: float) -> None:
    # Metastable undercooling of 5 to 15 K: study of thermal analysis (abstract read).
    first, second = liquidus(carbon, silicon), eutectic(silicon, "white") - undercooling
    assert equivalent_from_arrest(first) == pytest.approx(liquidus_equivalent(carbon, silicon))
    assert silicon_from_arrest(second, undercooling) == pytest.approx(silicon)
    assert carbon_from_arrests(first, second, undercooling) == pytest.approx(carbon)


@given(st.floats(1140, 1340), st.floats(0.5, 50))
def test_a_higher_arrest_means_less_carbon(arrest: float, more: float) -> None:
    for rule in ("regression", "classic"):
        assert equivalent_from_arrest(arrest + more, rule) < equivalent_from_arrest(arrest, rule)


def test_the_two_rules_differ_and_the_answer_says_so() -> None:
    worked = calculations()["arrest-carbon-equivalent"].run(arrest=1200)
    assert worked.value == pytest.approx(3.8636, abs=1e-4)
    assert "the other rule gives 3.77 %" in worked.warnings
    assert any("each foundry" in words for words in worked.warnings)


def test_arrests_that_cannot_be_are_explained() -> None:
    with pytest.raises(OutOfRange, match=r"would mean 7\.\d+ % silicon"):
        calculations()["arrest-silicon"].run(arrest=1050)
    with pytest.raises(OutOfRange, match="change them round"):
        calculations()["arrest-carbon"].run(first=1131, second=1140)
    with pytest.raises(OutOfRange, match="regression or classic"):
        equivalent_from_arrest(1200, "best")


def test_carbon_by_both_arrests_is_a_grey_iron() -> None:
    # By hand: (1625 - 1200) / 110 = 3.8636; (1147 - 8.3 - 1112) / 12 = 2.225; 3.8636 - 0.5057.
    worked = calculations()["arrest-carbon"].run(first=1200, second=1112, undercooling=8.3)
    assert worked.value == pytest.approx(3.358, abs=0.001)
