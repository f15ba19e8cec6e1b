"""Contraction: the pattern is the larger one, and length is not volume."""

from __future__ import annotations

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.contraction import contraction_found, pattern_size, per_cent

UNITS = pint.UnitRegistry()
SIZE = st.floats(1, 5000)


@given(SIZE, st.floats(0.01, 3))
def test_there_and_back_and_always_larger(casting: float, contraction: float) -> None:
    pattern = pattern_size(casting, contraction)
    assert pattern > casting
    assert contraction_found(pattern, casting) == pytest.approx(contraction)


def test_a_twelve_inch_cavity_that_came_out_short() -> None:
    # A page multiplies the nominal by 0.97916; the pattern must grow by 1.02128 instead.
    contraction = contraction_found(12.0, 11.75)
    assert pattern_size(1.0, contraction) == pytest.approx(1.02128, abs=1e-5)
    assert pattern_size(1.0, contraction) > 1 > 0.97916


@pytest.mark.parametrize(
    ("inches", "percent"),
    # Applied science for metal workers (allowances read, per cent worked out): cast iron,
    # bronze, steel, yellow brass.
    [(3 / 32, 0.781), (5 / 32, 1.302), (3 / 16, 1.5625), (7 / 32, 1.823)],
)
def test_shrink_rules_by_a_units_library(inches: float, percent: float) -> None:
    by_library = UNITS.Quantity(inches, "inch/foot").to("dimensionless").magnitude * 100
    assert per_cent(inches) == pytest.approx(by_library)
    assert per_cent(inches) == pytest.approx(percent, abs=5e-4)


def test_machining_stock_contracts_too() -> None:
    worked = calculations()["pattern-size"].run(casting=300, finish=3)
    assert worked.value == pytest.approx(306.03)


@pytest.mark.parametrize(
    ("pattern", "casting", "words"),
    [(300, 301, "larger than its pattern"), (300, 293, "white iron"), (300, 299, "rapping")],
)
def test_an_odd_contraction_is_explained(pattern: float, casting: float, words: str) -> None:
    worked = calculations()["contraction-found"].run(pattern=pattern, casting=casting)
    assert any(words in each for each in worked.warnings)


def test_usual_contraction_series_and_nonsense() -> None:
    assert not calculations()["contraction-found"].run(pattern=303, casting=300).warnings
    assert contraction_found(np.array([303.0, 12.0]), np.array([300.0, 11.75])) == pytest.approx(
        [1.0, 2.1277], abs=1e-4
    )
    with pytest.raises(OutOfRange, match="casting"):
        pattern_size(0.0, 1.0)
