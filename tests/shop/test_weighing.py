"""Sand tests on the scale; wet and dry basis kept apart."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.weighing import dry_from_wet, loss, moisture_on_dry, wet_from_dry

masses = st.floats(1.0, 1000.0)
parts = st.floats(0.01, 1.0)


@given(masses, parts)
def test_the_dry_basis_never_reads_lower(moist: float, part: float) -> None:
    assert moisture_on_dry(moist, moist * part) >= loss(moist, moist * part) - 1e-9


@given(masses, parts)
def test_the_two_bases_turn_into_each_other(moist: float, part: float) -> None:
    on_dry = moisture_on_dry(moist, moist * part)
    assert wet_from_dry(on_dry) == pytest.approx(loss(moist, moist * part))


@given(st.floats(0, 90))
def test_there_and_back(moisture: float) -> None:
    assert wet_from_dry(dry_from_wet(moisture)) == pytest.approx(moisture)


def test_a_dry_basis_sheet_is_not_the_foundrys_moisture() -> None:
    # 50 g to 48.35 g: 3.30 % in the trade (TJFS-201), 3.41 % on a sheet that divides by dry sand.
    assert loss(50.0, 48.35) == pytest.approx(3.30)
    assert moisture_on_dry(50.0, 48.35) == pytest.approx(3.41, abs=0.005)
    worked = calculations()["moisture"].run(moist=50, dry=48.35)
    assert "3.413" in worked.warnings[0]


def test_a_series_in_gives_a_series_out() -> None:
    found = loss(np.array([50.0, 50.0]), np.array([48.35, 49.0]))
    assert found == pytest.approx([3.3, 2.0])


def test_sand_does_not_gain_by_drying() -> None:
    with pytest.raises(OutOfRange, match="mass before less mass after: -2 g"):
        calculations()["moisture"].run(moist=48, dry=50)
    with pytest.raises(OutOfRange, match="moist mass less dry mass"):
        moisture_on_dry(48.0, 50.0)


def test_volatiles_are_part_of_the_loss_on_ignition() -> None:
    volatiles = calculations()["volatiles"]
    worked = volatiles.run(dry=20, heated=19.388, ignition=3.7)
    assert worked.value == pytest.approx(3.06)
    assert worked.working[-1] == "the rest of the loss on ignition is fixed: 0.64 %"
    with pytest.raises(OutOfRange, match="cannot be more than the loss on ignition"):
        volatiles.run(dry=20, heated=19, ignition=3.7)
