"""Facts of the trade that the sums and the windows must bear out: common practice, no source."""

from __future__ import annotations

import pytest

from diagnose.reasoning.setup import window_for
from diagnose.rulebase.job import Job
from diagnose.shop.catalogue import calculations
from tests import shipped

SUMS = calculations()
HAND_LADLE = 23.0  # kg: what one man carries of iron, about 50 lb
TAPPED = 1450.0  # degC: cupola iron at the spout
GREY_IRON = Job("grey iron", "green sand", 12.0)


def test_cupola_iron_at_its_usual_heat_lies_in_the_window() -> None:
    window = window_for(shipped.book().measurements["tapping-temperature"], GREY_IRON)
    assert window is not None
    assert (window.low or 0) <= TAPPED <= (window.high or 1e9)


def test_a_hand_ladle_still_pours_after_a_minute_and_not_after_ten() -> None:
    """Light green-sand work is poured from about 1300 degC up; iron freezes near 1150 degC."""
    at_mould = SUMS["metal-at-mould"]
    after = {
        minutes: at_mould.run(tapped=TAPPED, metal=HAND_LADLE, minutes=minutes).value
        for minutes in (0.0, 1.0, 3.0, 10.0)
    }
    assert 1300 <= after[1.0] <= 1430
    assert after[10.0] < 1250
    assert list(after.values()) == sorted(after.values(), reverse=True)


def test_a_bigger_ladle_keeps_its_heat_longer() -> None:
    loss = SUMS["ladle-loss"]
    small, large = (loss.run(metal=metal, minutes=5).value for metal in (HAND_LADLE, 1000.0))
    assert small > 3 * large


def test_a_hand_ladle_fills_a_handful_of_small_moulds() -> None:
    assert 3 <= SUMS["moulds-filled"].run(metal=HAND_LADLE, mould=4.0).value <= 6


@pytest.mark.parametrize(
    ("reading", "most"), [("sand-live-clay", 20.0), ("sand-loss-on-ignition", 12.0)]
)
def test_moulding_sand_is_sand_with_small_parts_of_clay_and_coal_dust(
    reading: str, most: float
) -> None:
    window = window_for(shipped.book().measurements[reading], GREY_IRON)
    assert window is not None
    assert 0 < (window.low or 0) < (window.high or 0) < most


def test_a_charge_takes_about_a_tenth_of_its_weight_in_coke() -> None:
    worked = SUMS["coke-per-hour"].run(rate=2480.0, ratio=10.0)
    assert worked.value == pytest.approx(248.0, rel=0.02)
