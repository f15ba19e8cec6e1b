"""Additions: mass balance, and a fade that begins at once."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.catalogue import calculations
from diagnose.shop.inoculation import addition_weight, brought_in, effect_left


@given(st.floats(1, 5000), st.floats(0.02, 2), st.floats(1, 100))
def test_what_is_weighed_in_is_what_is_found(metal: float, addition: float, content: float) -> None:
    grams = addition_weight(metal, addition) * content / 100
    assert brought_in(addition, content) == pytest.approx(grams / metal / 10)


@given(st.floats(0, 59), st.floats(0.01, 1), st.floats(2, 20))
def test_fade_knows_no_period_of_grace(minutes: float, more: float, half_life: float) -> None:
    # Booklet on inoculation (read): it fades from the first moment.
    assert effect_left(minutes + more, half_life) < effect_left(minutes, half_life) <= 100


def test_fade_over_a_plant_trial() -> None:
    # A plant held ladles for 22 min, sampling about every 2 (abstract read); half-life from memory.
    left = effect_left(np.arange(0.0, 24.0, 2.0))
    assert left[0] == 100
    assert np.all(np.diff(left) < 0)
    assert left[-1] < 15


def test_late_iron_is_called_late_and_damp_is_warned_of() -> None:
    late = calculations()["inoculant-fade"].run(minutes=12)
    assert any("pig it" in words for words in late.warnings)
    fresh = calculations()["inoculant-fade"].run(minutes=3)
    assert not any("pig it" in words for words in fresh.warnings)
    dose = calculations()["inoculant-weight"].run(metal=20)
    assert dose.value == pytest.approx(40)
    assert any("damp additions spit" in words for words in dose.warnings)


def test_dosage_of_the_makers_lies_around_the_default() -> None:
    # 3 to 10 kg/t (maker's page, read) against about 0.2 % (supplier's sheet, read).
    assert addition_weight(1000, 0.3) == pytest.approx(3000)
    assert addition_weight(1000, 1.0) == pytest.approx(10000)
