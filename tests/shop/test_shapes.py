"""Shapes: symmetry, scale, and the slips of published modulus tables."""

from __future__ import annotations

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.shapes import SHAPES, modulus, surface, volume

UNITS = pint.UnitRegistry()
SIZE = st.floats(1, 500)
SIZES = {
    "plate": {"length": 120.0, "width": 80.0, "thickness": 20.0},
    "bar": {"length": 500.0, "width": 30.0, "thickness": 20.0},
    "cube": {"side": 50.0},
    "cylinder": {"diameter": 30.0, "height": 50.0},
    "sphere": {"diameter": 60.0},
    "ring": {"outside": 100.0, "inside": 60.0, "height": 40.0},
}


@given(SIZE)
def test_cube_ball_and_squat_cylinder_of_one_width_share_their_modulus(side: float) -> None:
    # Study question (read): all three of 10 cm have 10/6.
    for shape, sizes in (
        ("cube", {"side": side}),
        ("sphere", {"diameter": side}),
        ("cylinder", {"diameter": side, "height": side}),
    ):
        assert modulus(shape, sizes) == pytest.approx(side / 6)


def test_a_published_slip_in_the_cube_and_the_cylinder() -> None:
    # A supplier's page prints s3/6s3 and r h/2(r/h); s/6 and r h/2(r + h) are right.
    assert modulus("cube", {"side": 60}) == pytest.approx(10)
    assert modulus("cylinder", {"diameter": 30, "height": 50}) == pytest.approx(
        15 * 50 / (2 * (15 + 50))
    )


@pytest.mark.parametrize("shape", sorted(SHAPES))
def test_scale(shape: str) -> None:
    sizes = SIZES[shape]
    twice = {name: 2 * size for name, size in sizes.items()}
    assert volume(shape, twice) == pytest.approx(8 * volume(shape, sizes))
    assert surface(shape, twice) == pytest.approx(4 * surface(shape, sizes))
    assert modulus(shape, twice) == pytest.approx(2 * modulus(shape, sizes))


@given(st.floats(20, 500), st.floats(0.05, 0.95), SIZE)
def test_a_ring_is_a_cylinder_less_its_bore(outside: float, share: float, height: float) -> None:
    inside = outside * share
    ring = volume("ring", {"outside": outside, "inside": inside, "height": height})
    whole, bore = (
        volume("cylinder", {"diameter": each, "height": height}) for each in (outside, inside)
    )
    assert ring == pytest.approx(whole - bore, rel=1e-6)
    thin = modulus("ring", {"outside": outside, "inside": inside, "height": height})
    assert thin < modulus("cylinder", {"diameter": outside, "height": height})


@given(SIZE, SIZE, SIZE)
def test_a_long_plate_is_a_bar(length: float, width: float, thickness: float) -> None:
    sizes = {"length": length * 1e6, "width": width, "thickness": thickness}
    assert modulus("plate", sizes) == pytest.approx(modulus("bar", sizes), rel=1e-2)
    assert modulus("plate", sizes) <= modulus("bar", sizes)


def test_a_ball_is_the_slowest_of_its_volume() -> None:
    ball = modulus("sphere", {"diameter": 60})
    side = (volume("sphere", {"diameter": 60})) ** (1 / 3)
    assert (modulus("cube", {"side": side}) / ball) ** 2 == pytest.approx(0.65, abs=0.001)


def test_weight_by_a_units_library() -> None:
    # Encyclopaedia, Foundry practice (read): 0.26 lb to the cubic inch.
    side = UNITS.Quantity(5, "inch")
    pounds = (side**3 * UNITS.Quantity(0.26, "lb/inch**3")).to("kg").magnitude
    found = calculations()["weight"].run(shape="cube", sizes={"side": side.to("mm").magnitude})
    assert found.value == pytest.approx(pounds, rel=1e-3)
    liquid = calculations()["weight"].run(shape="cube", sizes={"side": 127.0}, metal="liquid")
    assert liquid.value < found.value


def test_missing_unknown_and_impossible_sizes_are_all_named() -> None:
    with pytest.raises(OutOfRange) as caught:
        modulus("plate", {"length": 100, "depth": 20, "width": -1})
    assert caught.value.problems == (
        "sizes: thickness of the plate is missing.",
        "sizes: a plate has no depth; it wants length, width, thickness.",
        "sizes, width: -1 mm cannot be; right would be above 0.",
    )
    with pytest.raises(OutOfRange, match="shape 'cone'"):
        volume("cone", {"height": 3})
    with pytest.raises(OutOfRange, match="not less than the outside"):
        modulus("ring", {"outside": 50, "inside": 60, "height": 10})
    with pytest.raises(OutOfRange, match="side"):
        surface("cube", {"side": math.nan})
