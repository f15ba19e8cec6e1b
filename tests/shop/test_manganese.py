"""Manganese against sulphur: stoichiometry, and the warnings by band."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.manganese import TIED, manganese_excess, manganese_needed


def test_the_rounded_factor_is_the_atomic_weights() -> None:
    # IUPAC: Mn 54.938, S 32.06.
    assert pytest.approx(54.938 / 32.06, abs=0.02) == TIED


@given(st.floats(0.0, 0.3), st.floats(0.0, 0.6))
def test_what_is_needed_leaves_the_excess(sulphur: float, excess: float) -> None:
    needed = manganese_needed(sulphur, excess)
    assert manganese_excess(needed, sulphur) == pytest.approx(excess, abs=1e-12)
    assert manganese_needed(sulphur + 0.01, excess) > needed


@pytest.mark.parametrize(
    ("manganese", "sulphur", "words"),
    # Effect of manganese and sulfur on flake graphite irons, AFS (abstract read); page on manganese
    # (read) for the upper end.
    [(0.10, 0.12, "left free"), (0.25, 0.12, "below the 0.1 %"), (0.92, 0.064, "above the 0.3")],
)
def test_each_side_of_the_balance_is_named(manganese: float, sulphur: float, words: str) -> None:
    worked = calculations()["manganese-excess"].run(manganese=manganese, sulphur=sulphur)
    assert any(words in each for each in worked.warnings)


def test_a_good_balance_is_left_in_peace() -> None:
    assert not calculations()["manganese-excess"].run(manganese=0.5, sulphur=0.1).warnings


def test_the_thin_wall_study_has_the_product_it_prints() -> None:
    # Study of inoculation for thin-wall grey iron (abstract read): 0.013 to 0.016 at 0.02 % S.
    worked = calculations()["manganese-sulphur-product"].run(manganese=0.73, sulphur=0.02)
    assert 0.013 <= worked.value <= 0.016
    assert any("stronger inoculation" in words for words in worked.warnings)


def test_series_and_nonsense() -> None:
    assert manganese_excess(np.array([0.6, 0.9]), np.array([0.1, 0.064])) == pytest.approx(
        [0.43, 0.7912]
    )
    with pytest.raises(OutOfRange, match="sulphur"):
        manganese_needed(-0.1)
