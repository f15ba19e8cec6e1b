"""Gates: heads and chokes in their order, dimensions, and which ratios are which."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.gating import choke_area, effective_head, gate_ratio, pressurised

UNITS = pint.UnitRegistry()
HEAD = st.floats(20, 1000)
HEIGHT = st.floats(5, 1000)


@given(HEAD, HEIGHT, st.floats(0, 1), st.floats(0, 1))
def test_a_lower_gate_leaves_less_head(head: float, height: float, one: float, two: float) -> None:
    low, high = sorted((one * height, two * height))
    assume(high <= head)
    assert effective_head(head, height, high) <= effective_head(head, height, low)


@given(HEAD, HEIGHT)
def test_top_and_bottom_gate_are_the_ends_of_one_rule(head: float, height: float) -> None:
    # Gating sheet (read): h for a top gate, h - c/2 for a bottom gate.
    assume(height <= head)
    assert effective_head(head, height, 0) == head
    assert effective_head(head, height, height) == pytest.approx(head - height / 2)


def test_choke_grows_from_top_to_bottom_gate() -> None:
    heads = [effective_head(150, 100, above) for above in (0, 50, 100)]
    areas = [choke_area(20, 7.63, head) for head in heads]
    assert areas == sorted(areas)


def test_choke_has_the_dimension_of_an_area() -> None:
    # The same rule by a units library, in the units of an older drawing office.
    weight, time = UNITS.Quantity(44, "lb"), UNITS.Quantity(7.63, "s")
    head, density = UNITS.Quantity(6, "inch"), UNITS.Quantity(0.25, "lb/inch**3")
    gravity = UNITS.Quantity(1, "standard_gravity")
    area = (weight / (density * time * 0.85 * (2 * gravity * head) ** 0.5)).to("mm**2")
    found = choke_area(
        weight.to("kg").magnitude,
        7.63,
        head.to("mm").magnitude,
        0.85,
        density.to("kg/m**3").magnitude,
    )
    assert found == pytest.approx(area.magnitude)


@given(st.floats(1, 500), st.floats(1, 60), st.floats(20, 500))
def test_an_old_form_for_iron_is_the_same_rule(weight: float, time: float, head: float) -> None:
    # From memory: area in cm2 = kg / (0.31 C t cm^0.5); 0.31 is 0.007 kg/cm3 x (2 x 981)^0.5.
    old = weight / (0.31 * 0.85 * time * math.sqrt(head / 10)) * 100
    assert choke_area(weight, time, head, 0.85, 7000) == pytest.approx(old, rel=1e-3)


@given(st.floats(1, 500), st.floats(1, 60), st.floats(20, 500), st.floats(1.01, 3))
def test_more_time_or_head_wants_less_choke(
    weight: float, time: float, head: float, scale: float
) -> None:
    area = choke_area(weight, time, head)
    assert choke_area(weight, time * scale, head) == pytest.approx(area / scale)
    assert choke_area(weight, time, head * scale**2) == pytest.approx(area / scale)


@pytest.mark.parametrize(
    ("ratio", "tight"),
    # Course sheet (read); a page that calls 1:2:2 pressurised and 1:2:4 the grey-iron ratio
    # contradicts its own areas and is not followed.
    [
        ((1, 0.75, 0.5), True),
        ((1, 2, 1), True),
        ((2, 1, 1), True),
        ((3, 2, 1), True),
        ((4, 3, 1), True),
        ((1, 2, 2), False),
        ((1, 3, 3), False),
        ((1, 2, 4), False),
    ],
)
def test_ratios_are_named_as_the_sheet_names_them(
    ratio: tuple[float, float, float], tight: bool
) -> None:
    sprue, runner, gates = ratio
    assert pressurised(gate_ratio(sprue, gates)) is tight
    worked = calculations()["gating-ratio"].run(sprue=sprue, runner=runner, gate=gates)
    assert worked.working[-1].endswith(", pressurised)" if tight else ", unpressurised)")


def test_gate_speed_is_held_against_the_published_front() -> None:
    # Foundry page on metal fronts (read): 0.5 m/s, to 1 m/s in sections of a few mm.
    one = calculations()["gate-speed"]
    assert not one.run(weight=10, time=10, area=400).warnings
    assert any("0.5 m/s" in words for words in one.run(weight=10, time=10, area=200).warnings)
    assert any("1 m/s" in words for words in one.run(weight=10, time=10, area=100).warnings)


def test_a_mould_that_cannot_fill_is_said() -> None:
    with pytest.raises(OutOfRange, match="right would be more than 200 mm"):
        effective_head(150, 250, 200)
    with pytest.raises(OutOfRange, match="height above the gate"):
        calculations()["effective-head"].run(head=300, height=100, above=120)
    drowned = calculations()["effective-head"].run(head=150, height=150, above=150)
    assert any("mould-filling-time" in words for words in drowned.warnings)
