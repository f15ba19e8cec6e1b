"""Sand tests on the rammed specimen."""

from __future__ import annotations

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.specimen import (
    compactability,
    green_compression,
    green_density,
    mouldability,
    water_sensitivity,
)


@given(st.floats(1, 500), st.floats(0.01, 1))
def test_compactability_is_a_share(loose: float, part: float) -> None:
    assert compactability(loose, loose * part) == pytest.approx(100 * (1 - part), abs=1e-9)


def test_dimensions() -> None:
    units = pint.UnitRegistry()
    volume = np.pi / 4 * (50.8 * units.mm) ** 2 * (50.8 * units.mm)
    density = (160.12 * units.gram / volume).to("g/cm**3").magnitude
    assert green_density(160.12, 50.8, 50.8) == pytest.approx(density)
    stress = 200 * units.newton / (np.pi / 4 * (2 * units.inch) ** 2)
    assert green_compression(200.0, 50.8) == pytest.approx(stress.to("kPa").magnitude)


def test_a_psi_is_6_894757_kilopascal() -> None:
    worked = calculations()["green-compression"].run(load=201.93)
    assert worked.working[-1] == "= 14.45 psi"


@given(st.floats(1, 5), st.floats(0.1, 3), st.floats(20, 40), st.floats(1, 30))
def test_either_sand_may_be_named_first(m: float, dm: float, c: float, dc: float) -> None:
    there = water_sensitivity((m, m + dm), (c, c + dc))
    back = water_sensitivity((m + dm, m), (c + dc, c))
    assert there == pytest.approx(back)
    assert there == pytest.approx(10 * dm / dc)


def test_readings_that_cannot_be() -> None:
    with pytest.raises(OutOfRange, match="loose height less rammed height"):
        compactability(58.0, 100.0)
    with pytest.raises(OutOfRange, match="difference of compactability"):
        water_sensitivity((3.1, 3.9), (40.0, 40.0))
    with pytest.raises(OutOfRange, match="passed"):
        mouldability(201.0)


@pytest.mark.parametrize(("rammed", "word"), [(70, "friable"), (45, "rough skin")])
def test_too_dry_and_too_wet_are_told(rammed: float, word: str) -> None:
    worked = calculations()["compactability"].run(loose=100, rammed=rammed)
    assert word in worked.warnings[0]
    assert calculations()["compactability"].run(loose=100, rammed=57).warnings == ()
