"""Sums on cores: what is said of them."""

from __future__ import annotations

import pytest

from diagnose.shop.catalogue import calculations

CORE = {"core": 2.0, "binder": 1.2, "seconds": 30.0, "length": 150.0, "head": 100.0}


@pytest.mark.parametrize(
    ("vents", "diameter", "verdict"),
    [
        (1, 2, "the vents cannot carry it"),
        (1, 6, "no room for the peak"),
        (8, 6, "an order of magnitude"),
    ],
)
def test_too_few_vents_are_told(vents: int, diameter: float, verdict: str) -> None:
    worked = calculations()["core-venting"].run(**CORE, vents=vents, diameter=diameter)
    assert worked.warnings[0].startswith(verdict)


def test_vents_share_the_load() -> None:
    venting = calculations()["core-venting"]
    assert venting.run(**CORE, vents=4, diameter=6).value == pytest.approx(
        venting.run(**CORE, vents=1, diameter=6).value / 4
    )


def test_the_measured_peak_is_held_by_16_mm_of_iron() -> None:
    # 1.09 kPa: peak in a hollow printed furan core, Materials 2023, 16, 4152.
    against = calculations()["core-gas-against-head"]
    assert against.run(head=16, pressure=1.09, density=7000).value > 0
    low = against.run(head=15, pressure=1.09, density=7000)
    assert low.value < 0
    assert low.warnings[0].startswith("gas can bubble")


def test_poison_and_damp_are_warned_of() -> None:
    assert any(
        "poisonous" in each for each in calculations()["core-gas"].run(core=1, binder=1).warnings
    )
    assert any(
        "dry cores" in each
        for each in calculations()["steam-from-sand"].run(sand=1, moisture=3).warnings
    )


def test_a_swirling_vent_is_told() -> None:
    fast = calculations()["vent-flow"].run(diameter=15, length=50, pressure=5)
    slow = calculations()["vent-flow"].run(diameter=2, length=200, pressure=0.1)
    assert "passes less" in fast.warnings[-1]
    assert len(slow.warnings) == 1
