"""Nitrogen, aluminium, phosphorus: risk that rises, by limits that do not agree."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.residuals import (
    ALUMINIUM_LIMITS,
    NITRIDE,
    NITROGEN_LIMITS,
    free_nitrogen,
    leaker_signs,
    passed,
    titanium_for,
)

PPM = st.floats(0, 300)


@given(PPM, st.floats(0, 100))
def test_more_nitrogen_never_lowers_the_risk_and_heavy_work_bears_less(
    nitrogen: float, more: float
) -> None:
    light, heavy = NITROGEN_LIMITS["light"], NITROGEN_LIMITS["heavy"]
    for limits in (light, heavy):
        assert passed(nitrogen + more, limits) >= passed(nitrogen, limits)
    assert passed(nitrogen, heavy) >= passed(nitrogen, light)


@given(st.floats(0, 0.05), st.floats(0, 0.05))
def test_more_aluminium_never_lowers_the_risk(aluminium: float, more: float) -> None:
    assert passed(aluminium + more, ALUMINIUM_LIMITS) >= passed(aluminium, ALUMINIUM_LIMITS)


@pytest.mark.parametrize(("aluminium", "count"), [(0.004, 0), (0.008, 1), (0.015, 2), (0.03, 3)])
def test_the_three_aluminium_limits_are_kept_apart(aluminium: float, count: int) -> None:
    # 0.005 (supplier's sheet 12), 0.01 (pinhole study), 0.02 (supplier's sheet 30), all read.
    assert calculations()["aluminium-risk"].run(aluminium=aluminium).value == count


@given(PPM, st.floats(0, 0.05))
def test_titanium_ties_nitrogen_and_no_more_than_there_is(nitrogen: float, titanium: float) -> None:
    free = free_nitrogen(nitrogen, titanium)
    assert 0 <= free <= nitrogen
    needed = titanium_for(nitrogen, free)
    assert needed <= titanium + 1e-9


@given(st.floats(81, 300))
def test_titanium_needed_brings_it_to_the_limit(nitrogen: float) -> None:
    assert free_nitrogen(nitrogen, titanium_for(nitrogen, 80)) == pytest.approx(80)


def test_the_published_cure_ties_a_usual_nitrogen() -> None:
    # Broadsheet on nitrogen (read): 0.02 to 0.03 % Ti cures irons of about 80 to 130 ppm.
    assert pytest.approx(58.5, abs=0.1) == 0.02 * 1e4 / NITRIDE
    assert free_nitrogen(130, 0.03) < 80


@pytest.mark.parametrize(
    ("phosphorus", "chromium", "molybdenum", "signs"),
    [(0.06, 0.5, 0.0, 0), (0.07, 0.5, 0.0, 1), (0.06, 0.3, 0.3, 1), (0.07, 0.3, 0.3, 2)],
)
def test_leakers_need_both_signs(
    phosphorus: float, chromium: float, molybdenum: float, signs: int
) -> None:
    assert leaker_signs(phosphorus, chromium, molybdenum) == signs


def test_the_sources_are_shown_beside_the_reading() -> None:
    worked = calculations()["nitrogen-risk"].run(nitrogen=125, section="light")
    assert worked.value == 2
    assert any("125 is within 130 ppm" in line for line in worked.working)
    cured = calculations()["nitrogen-risk"].run(nitrogen=125, titanium=0.02, section="light")
    assert cured.value == 0
    assert any("not all titanium" in words for words in cured.warnings)


def test_a_series_and_a_needless_cure() -> None:
    found = free_nitrogen(np.array([120.0, 40.0]), np.array([0.02, 0.02]))
    assert found == pytest.approx([61.47, 0.0], abs=0.01)
    with pytest.raises(OutOfRange, match="no titanium needed"):
        calculations()["titanium-for-nitrogen"].run(nitrogen=70)
    too_much = calculations()["titanium-for-nitrogen"].run(nitrogen=220)
    assert any("find the nitrogen" in words for words in too_much.warnings)
