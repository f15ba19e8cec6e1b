"""The bond equations as the shop asks for them, in kPa."""

from __future__ import annotations

import pytest

from diagnose.shop.bond import working_bond
from diagnose.shop.catalogue import calculations
from diagnose.shop.physics import PSI

SAND = {"strength": 180.0, "compactability": 40.0, "moisture": 3.2}
FULL = {f"full_{name}": value for name, value in SAND.items()}


def test_kilopascals_are_turned_into_psi() -> None:
    worked = calculations()["working-bond"].run(strength=180, compactability=40)
    assert worked.value == pytest.approx(working_bond(180 / PSI, 40.0))
    assert worked.working[0] == "green compression = 180 kPa = 26.11 psi"


def test_a_sand_mulled_out_is_its_own_hundred_per_cent() -> None:
    mulling = calculations()["mulling-efficiency"]
    assert mulling.run(**SAND, **FULL).value == pytest.approx(100)
    # TJFS-108: strength x compactability / moisture; half the strength is half the efficiency.
    assert mulling.run(**{**SAND, "strength": 90.0}, **FULL).value == pytest.approx(50)


def test_a_poor_reference_is_told() -> None:
    worked = calculations()["mulling-efficiency"].run(
        **SAND, **{**FULL, "full_strength": 120.0, "full_compactability": 48.0}
    )
    assert "not mulled out" in worked.warnings[0]
    assert "within 5 %" in worked.warnings[1]


def test_clay_outside_the_line_is_told() -> None:
    water = calculations()["water-for-clay"]
    assert "outside 7 to 11 %" in water.run(clay=5, compactability=42).warnings[0]
    assert not any("outside" in each for each in water.run(clay=8, compactability=42).warnings)
