"""Carbon equivalent and saturation: identities, and the windows of a published standard."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.carbon import FORMS, carbon_equivalent, saturation
from diagnose.shop.catalogue import calculations

CARBON = st.floats(2.0, 4.5)
SILICON = st.floats(0.2, 3.5)
PHOSPHORUS = st.floats(0.0, 1.2)

# SAE J431 / ASTM A159 as quoted by a foundry page (read): C, Si and the window of C + Si/3.
WINDOWS = {
    "G1800": ((3.40, 3.70), (2.30, 2.80), (4.25, 4.5)),
    "G2500": ((3.20, 3.50), (2.00, 2.40), (4.0, 4.25)),
    "G3000": ((3.10, 3.40), (1.90, 2.30), (3.9, 4.15)),
    "G3500": ((3.00, 3.30), (1.80, 2.20), (3.7, 3.9)),
}


@pytest.mark.parametrize("grade", WINDOWS)
def test_middle_of_a_grade_lies_in_its_window_but_the_corners_do_not(grade: str) -> None:
    carbon, silicon, window = WINDOWS[grade]
    middle = carbon_equivalent(sum(carbon) / 2, sum(silicon) / 2, 0.0, "short")
    assert window[0] <= middle <= window[1]
    assert carbon_equivalent(carbon[0], silicon[0], 0.0, "short") < window[0]
    assert carbon_equivalent(carbon[1], silicon[1], 0.0, "short") > window[1]


def test_falls_with_the_grade() -> None:
    # Mid-points of a jobbing foundry's grade table (read): 150, 200, 220-250, 300, 350 MPa.
    irons = [(3.5, 2.35, 1.05), (3.35, 2.25, 0.4), (3.225, 1.75, 0.3), (3.0, 1.9, 0.1)]
    values = [carbon_equivalent(*iron) for iron in irons]
    assert values == sorted(values, reverse=True)


@given(CARBON, SILICON, PHOSPHORUS, st.sampled_from([4.2, 4.23, 4.26, 4.3]))
def test_saturation_and_equivalent_agree_on_the_side(
    carbon: float, silicon: float, phosphorus: float, eutectic: float
) -> None:
    over = carbon_equivalent(carbon, silicon, phosphorus) - eutectic
    degree = saturation(carbon, silicon, phosphorus, eutectic) - 1
    assert over * degree >= 0
    assert degree == pytest.approx(over / (eutectic - (silicon + phosphorus) / 3))


@given(CARBON, SILICON, PHOSPHORUS, st.sampled_from(sorted(FORMS)), st.floats(0.01, 0.5))
def test_every_element_raises_it_or_leaves_it(
    carbon: float, silicon: float, phosphorus: float, form: str, more: float
) -> None:
    base = carbon_equivalent(carbon, silicon, phosphorus, form)
    assert carbon_equivalent(carbon + more, silicon, phosphorus, form) == pytest.approx(base + more)
    assert carbon_equivalent(carbon, silicon + more, phosphorus, form) > base
    assert carbon_equivalent(carbon, silicon, phosphorus + more, form) >= base


def test_classic_form_as_formula_pages_work_it() -> None:
    # Pages on fluidity (read): contents of 1, 1, 1 give 1.75; 15, 25, 50 give 46.25.
    assert carbon_equivalent(1.0, 1.0, 1.0, "classic") == pytest.approx(1.75)
    assert carbon_equivalent(15.0, 25.0, 50.0, "classic") == pytest.approx(46.25)


def test_a_series_gives_a_series() -> None:
    carbon, silicon = np.array([3.13, 3.52]), np.array([1.50, 2.14])
    found = carbon_equivalent(carbon, silicon, np.zeros(2), "short")
    assert found == pytest.approx([3.63, 4.2333], abs=1e-4)


def test_nonsense_is_refused() -> None:
    with pytest.raises(OutOfRange, match="form 'best' is not known"):
        carbon_equivalent(3.3, 2.0, 0.1, "best")
    with pytest.raises(OutOfRange, match="carbon"):
        carbon_equivalent(-3.3, 2.0, 0.1)
    with pytest.raises(OutOfRange, match="eutectic carbon left"):
        saturation(3.3, 20.0, 0.1)


def test_says_when_the_constant_decides() -> None:
    one = calculations()["saturation"]
    near = one.run(carbon=3.48, silicon=2.3, phosphorus=0.0)
    assert any("constant decides" in words for words in near.warnings)
    assert not one.run(carbon=3.0, silicon=1.5).warnings
    either = calculations()["carbon-equivalent"].run(carbon=3.48, silicon=2.3)
    assert any("either" in words for words in either.warnings)
    soft = calculations()["carbon-equivalent"].run(carbon=3.8, silicon=2.5)
    assert any("kish" in words for words in soft.warnings)
