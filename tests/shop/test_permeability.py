"""Permeability number: specimens, units, and the orifice tester."""

from __future__ import annotations

import math

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.permeability import (
    permeability,
    permeability_by_orifice,
    timed_permeability,
)

positive = st.floats(0.1, 1000)


def test_the_general_form_gives_the_standard_test() -> None:
    area = math.pi / 4 * 5.08**2
    assert permeability(2000.0, 5.08, 10.0, area, 1.0) == pytest.approx(
        timed_permeability(10.0, 60.0)
    )


def test_dimensions() -> None:
    # cm3 of air, a cm of way, through a cm2, a minute, for a g/cm2: pint must find the same.
    units = pint.UnitRegistry()
    volume, height = 2000 * units.cm**3, 2.0 * units.inch
    area = math.pi / 4 * (2.0 * units.inch) ** 2
    head = 10 * units.cm * 1 * units.gram / units.cm**3
    number = volume * height / (head * area * 36 * units.second)
    wanted = units.cm**3 * units.cm / (units.gram / units.cm**2 * units.cm**2 * units.minute)
    assert timed_permeability(10.0, 36.0) == pytest.approx(number.to(wanted).magnitude)


@given(positive, positive, st.floats(1.01, 5))
def test_longer_or_harder_pushed_means_tighter(p: float, t: float, more: float) -> None:
    assert timed_permeability(p, t * more) < timed_permeability(p, t)
    assert timed_permeability(p * more, t) < timed_permeability(p, t)


@given(positive, positive)
def test_the_50_mm_tube_reads_1_6_per_cent_higher(p: float, t: float) -> None:
    ratio = timed_permeability(p, t, "50-mm") / timed_permeability(p, t, "2-inch")
    assert ratio == pytest.approx(1.016)


def test_an_array_of_times() -> None:
    found = timed_permeability(10.0, np.array([30.0, 60.0]))
    assert found == pytest.approx([100.255, 50.1275], abs=0.001)


@given(st.floats(0.2, 9.8), st.floats(10, 500), st.floats(0.2, 9.8))
def test_the_orifice_meets_its_own_calibration(p: float, known: float, at: float) -> None:
    assert permeability_by_orifice(at, known, at) == pytest.approx(known)
    found = permeability_by_orifice(p, known, at)
    # Turned round, the found specimen must calibrate the tester to the first one.
    assert permeability_by_orifice(at, found, p) == pytest.approx(known)


@given(st.floats(0.2, 9.0), st.floats(0.01, 0.7))
def test_more_pressure_under_the_specimen_means_tighter(p: float, more: float) -> None:
    assert permeability_by_orifice(p + more, 80.0, 5.0) < permeability_by_orifice(p, 80.0, 5.0)


def test_the_orifice_by_its_flows() -> None:
    # Written out: the orifice passes c sqrt(s - p), the specimen P p A / H; equal at any p.
    area, height, supply = 20.268, 5.08, 10.0
    flow_factor = 80.0 * 6.0 * area / height / math.sqrt(supply - 6.0)
    number = flow_factor * math.sqrt(supply - 2.5) * height / (2.5 * area)
    assert permeability_by_orifice(2.5, 80.0, 6.0, supply) == pytest.approx(number)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_nonsense_is_refused(bad: float) -> None:
    with pytest.raises(OutOfRange):
        permeability(2000.0, 5.08, 10.0, 20.268, bad)
    with pytest.raises(OutOfRange):
        timed_permeability(bad, 60.0)
    with pytest.raises(OutOfRange):
        permeability_by_orifice(5.0, 80.0, 10.0)
