"""What liquid iron does to a mould."""

from __future__ import annotations

import math

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.lift import (
    clamps,
    cope_lift,
    core_lift,
    ferrostatic_pressure,
    pressure_head,
    print_area,
    wall_force,
    wall_pressure,
    weight_on_top,
)

heads = st.floats(1, 1000)
areas = st.floats(1, 5000)


def test_dimensions() -> None:
    units = pint.UnitRegistry()
    g = 1 * units.standard_gravity
    iron = 7200 * units.kg / units.m**3
    pressure = (iron * g * 150 * units.mm).to("kPa").magnitude
    assert ferrostatic_pressure(150.0, 7200.0) == pytest.approx(pressure)
    lift = (iron * g * 150 * units.mm * 400 * units.cm**2).to("N").magnitude
    assert cope_lift(400.0, 150.0, 7200.0) == pytest.approx(lift)
    net = (900 * units.cm**3 * (iron - 1600 * units.kg / units.m**3) * g).to("N").magnitude
    assert core_lift(900.0, 7200.0, 1600.0) == pytest.approx(net)
    side = (iron * g * 150 * units.mm * 200 * units.mm * 100 * units.mm).to("N").magnitude
    assert wall_force(200.0, 100.0, 100.0, 7200.0) == pytest.approx(side)
    bearing = (3 * 60 * units.newton / (90 * units.kPa)).to("cm**2").magnitude
    assert print_area(60.0, 90.0) == pytest.approx(bearing)


@given(heads)
def test_head_and_pressure_turn_into_each_other(head: float) -> None:
    assert pressure_head(ferrostatic_pressure(head)) == pytest.approx(head)


@given(areas, heads, st.floats(0.0, 0.9))
def test_a_flat_raised_part_is_only_less_head(area: float, head: float, part: float) -> None:
    # A block that rises flat into the cope: head from its top, or from the joint less its volume.
    raised = head * part
    assert cope_lift(area, head - raised) == pytest.approx(
        cope_lift(area, head, rising=area * raised / 10)
    )


def test_a_curved_surface_is_not_the_area() -> None:
    # Hemisphere of 500 mm: the published slip takes 2 pi r^2 of the bore and gets 7043 N.
    seen_from_above = math.pi / 4 * 50**2
    assert cope_lift(seen_from_above, 300.0) < 0.6 * 7043
    dome = 2 / 3 * math.pi * 25**3
    assert cope_lift(seen_from_above, 300.0, rising=dome) == pytest.approx(1849, rel=0.001)


@given(st.floats(1, 1e5), st.floats(0, 1e4))
def test_gross_is_never_less_than_net(volume: float, prints: float) -> None:
    gross = core_lift(volume, gross=True, prints=prints)
    assert gross >= core_lift(volume, prints=prints)
    assert core_lift(volume) >= core_lift(volume, prints=prints)


def test_a_heavy_core_sinks() -> None:
    assert core_lift(1000.0, 2400.0, 4500.0) < 0


@given(st.floats(0, 1e5), st.floats(0, 500), st.floats(1, 3))
def test_more_lift_never_wants_less_weight(lift: float, cope: float, factor: float) -> None:
    assert weight_on_top(lift + 10, 0.0, cope, factor) >= weight_on_top(lift, 0.0, cope, factor)
    assert weight_on_top(lift, 0.0, cope, factor) >= 0


@given(st.floats(0, 1e5), st.floats(100, 1e4), st.floats(1, 3))
def test_the_clamps_carry_the_pull(pull: float, load: float, factor: float) -> None:
    count = clamps(pull, load, factor)
    assert count >= 2
    assert count * load >= factor * pull * (1 - 1e-6)
    assert count == 2 or (count - 1) * load < factor * pull


def test_the_four_walls_and_the_bottom_of_a_full_box_balance() -> None:
    # Whatever the mould, bottom load less cope lift is the weight of the iron in it.
    lift, bottom = cope_lift(400.0, 150.0), cope_lift(400.0, 250.0)
    assert bottom - lift == pytest.approx(400 * 10 * 1e-6 * 7200 * 9.80665)
    assert wall_pressure(100.0, 150.0) == pytest.approx(ferrostatic_pressure(200.0))


def test_an_array_of_heads() -> None:
    found = ferrostatic_pressure(np.array([0.0, 100.0, 200.0]), 7000.0)
    assert found == pytest.approx([0.0, 6.8647, 13.7293], abs=1e-4)


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_nonsense_is_refused(bad: float) -> None:
    with pytest.raises(OutOfRange):
        ferrostatic_pressure(bad)
    with pytest.raises(OutOfRange):
        cope_lift(100.0, bad)
    with pytest.raises(OutOfRange):
        core_lift(bad)
    with pytest.raises(OutOfRange):
        weight_on_top(bad)
    with pytest.raises(OutOfRange):
        wall_force(bad, 100.0, 100.0)


def test_a_casting_does_not_stand_above_the_pouring_level() -> None:
    with pytest.raises(OutOfRange, match="above the pouring level; right would be at most 1500"):
        cope_lift(100.0, 150.0, rising=1600.0)
