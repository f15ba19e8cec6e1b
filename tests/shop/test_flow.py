"""Metal in motion: exact filling times against a step-by-step fill, and friction."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.flow import (
    discharge,
    emptying_time,
    filling_time,
    nozzle_rate,
    reynolds,
)
from diagnose.shop.gating import effective_head
from diagnose.shop.physics import GRAVITY

HEAD = st.floats(50, 600)
SHARE = st.floats(0, 1)


def test_a_drowned_gate_takes_exactly_twice_as_long() -> None:
    # Engineering entrance exam 2006 (statement read): head = height of the mould.
    top = filling_time(1000, 150, 0, 100, 150)
    assert filling_time(1000, 150, 150, 100, 150) == pytest.approx(2 * top, rel=1e-12)


def test_the_mean_head_shortcut_is_not_used() -> None:
    # The handbook shortcut would give 30.91 s for 43.72: 29 % too soon.
    head = effective_head(150, 150, 150)
    shortcut = filling_time(125000, 150, 0, 500, head)
    exact = filling_time(125000, 150, 150, 500, 150)
    assert shortcut == pytest.approx(30.91, abs=0.02)
    assert shortcut / exact == pytest.approx(math.sqrt(0.5), rel=1e-9)


@given(HEAD, st.floats(10, 600), SHARE, SHARE)
def test_a_lower_gate_fills_more_slowly(head: float, height: float, one: float, two: float) -> None:
    low, high = sorted((one * height, two * height))
    assume(high < head * 0.999)
    slow = filling_time(1000, height, high, 100, head)
    quick = filling_time(1000, height, low, 100, head)
    assert slow >= quick * (1 - 1e-12)


@pytest.mark.parametrize("above", [0.0, 60.0, 140.0])
def test_filled_layer_by_layer_it_takes_as_long(above: float) -> None:
    layers = np.linspace(0, 140, 200001)
    middle = (layers[1:] + layers[:-1]) / 2
    over_gate = np.maximum(middle - (140 - above), 0)
    speed = np.sqrt(2 * GRAVITY * 1000 * (150 - over_gate))
    summed = float(np.sum(np.diff(layers) * 5000 / (80 * speed)))
    assert filling_time(5000, 140, above, 80, 150) == pytest.approx(summed, rel=1e-5)


@given(HEAD, st.floats(5, 60), st.floats(0, 500), st.integers(0, 4))
def test_friction_takes_something_and_bends_take_more(
    head: float, diameter: float, length: float, bends: int
) -> None:
    straight = discharge(head, diameter, length, bends, 6900, 0.00496)
    assert 0 < straight < 1 / math.sqrt(1.45) + 1e-12
    assert discharge(head, diameter, length, bends + 1, 6900, 0.00496) < straight


def test_friction_stands_still() -> None:
    share = discharge(150, 25.2313, 120, 1, 7800, 0.00496)
    speed = math.sqrt(2 * GRAVITY * 150000) * share
    factor = 0.0791 * reynolds(speed, 25.2313, 7800, 0.00496) ** -0.25
    turns = 4 * factor * (120 / 25.2313 + 25)
    assert share == pytest.approx(1 / math.sqrt(1.45 + turns), rel=1e-9)


def test_a_real_gate_takes_nearly_half_as_long_again() -> None:
    # Manufacturing science problem (read): 21.86 s without loss, 31.7 s with it.
    share = discharge(150, 25.2313, 120, 1, 7800, 0.00496)
    lossless = filling_time(125000, 150, 0, 500, 150)
    real = filling_time(125000, 150, 0, 500, 150, share)
    assert real == pytest.approx(31.7, abs=0.2)
    assert real / lossless == pytest.approx(1.45, abs=0.01)


def test_a_quarter_of_the_depth_is_half_the_flow() -> None:
    assert nozzle_rate(300, 75) == pytest.approx(nozzle_rate(1200, 75) / 2)


@given(st.floats(100, 2000), st.floats(10, 80))
def test_emptying_takes_twice_as_long_as_the_first_flow_would(depth: float, nozzle: float) -> None:
    ladle = 1000.0
    metal = math.pi / 4 * ladle**2 * depth * 6900 / 1e9
    assert emptying_time(depth, ladle, nozzle) == pytest.approx(
        2 * metal / nozzle_rate(depth, nozzle)
    )


def test_metal_in_gates_is_turbulent() -> None:
    # Course sheet (read): above 4000 turbulent.
    worked = calculations()["reynolds"].run(speed=500, diameter=10)
    assert worked.value > 4000
    assert any("turbulent" in words for words in worked.warnings)
    assert not calculations()["reynolds"].run(speed=10, diameter=10).warnings


def test_moulds_that_never_fill_are_refused() -> None:
    with pytest.raises(OutOfRange, match="never fills 200 mm"):
        filling_time(1000, 250, 200, 50, 150)
    with pytest.raises(OutOfRange, match="nozzle"):
        emptying_time(500, 50, 60)
    brim = calculations()["mould-filling-time"].run(
        area=1000, height=150, above=150, gate=50, head=155
    )
    assert any("raise the basin" in words for words in brim.warnings)
