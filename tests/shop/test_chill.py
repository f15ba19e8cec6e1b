"""Chill wedges: geometry that orders them, and the sulphur offset."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.chill import WEDGES, silicon_for_sulphur, wedge_angle, wedge_modulus

SIZE = st.floats(2, 200)


def test_the_published_wedges_freeze_slower_in_their_order() -> None:
    moduli = [wedge_modulus(*sizes) for sizes in WEDGES.values()]
    angles = [wedge_angle(base, height) for base, height, _ in WEDGES.values()]
    assert moduli == sorted(moduli)
    assert angles == sorted(angles)


def test_end_faces_count() -> None:
    # Without its ends W3 would come out at 3.73 mm, past the 3.5 that was read.
    base, height, length = WEDGES["W3"]
    assert wedge_modulus(base, height, 1e9) == pytest.approx(3.73, abs=0.01)
    assert wedge_modulus(base, height, length) == pytest.approx(3.47, abs=0.01)


@given(SIZE, SIZE, SIZE, st.floats(1.1, 5))
def test_a_larger_wedge_of_one_shape_has_a_larger_modulus(
    base: float, height: float, length: float, scale: float
) -> None:
    small = wedge_modulus(base, height, length)
    assert wedge_modulus(base * scale, height * scale, length * scale) == pytest.approx(
        small * scale
    )
    assert 0 < wedge_angle(base, height) < 180


@given(st.floats(0, 0.2), st.floats(10, 15))
def test_offset_stays_in_the_published_span(rise: float, points: float) -> None:
    assert 10 * rise <= silicon_for_sulphur(rise, points) + 1e-12 <= 15 * rise + 2e-12


def test_own_wedge_and_nonsense() -> None:
    own = calculations()["wedge-modulus"].run(wedge="own", base=5.1, height=25.4, length=101.6)
    assert own.value == calculations()["wedge-modulus"].run(wedge="W1").value
    with pytest.raises(OutOfRange, match="height"):
        wedge_angle(5, 0)
