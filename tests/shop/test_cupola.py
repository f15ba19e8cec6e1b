"""The cupola: areas, rates and the air that coke wants."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.cupola import air_for_coke, coke_bed, coke_per_hour, melting_rate, shaft_area

UNITS = pint.UnitRegistry()


def test_coke_bed_has_the_dimension_of_a_weight() -> None:
    across, high = UNITS.Quantity(30, "inch"), UNITS.Quantity(5, "foot")
    bed = (3.141592653589793 / 4 * across**2 * high * UNITS.Quantity(482, "kg/m**3")).to("kg")
    found = coke_bed(across.to("mm").magnitude, high.to("mm").magnitude, 482)
    assert found == pytest.approx(bed.magnitude)


@given(st.floats(200, 2000), st.floats(1.01, 2))
def test_twice_the_bore_melts_four_times_as_much(diameter: float, scale: float) -> None:
    assert melting_rate(diameter * scale, 0.562) == pytest.approx(
        melting_rate(diameter, 0.562) * scale**2
    )


@given(st.floats(1, 5000), st.floats(50, 100), st.floats(0, 99), st.floats(0.1, 1))
def test_half_burnt_coke_takes_less_air(
    coke: float, carbon: float, half_burnt: float, more: float
) -> None:
    assert air_for_coke(coke, carbon, half_burnt + more) < air_for_coke(coke, carbon, half_burnt)


def test_rule_of_thumb_lies_between_full_and_half_burning() -> None:
    # About 700 m3 of air to 100 kg of coke and a tonne of iron: teaching page (read).
    assert air_for_coke(100, 88, 100) < 700 < air_for_coke(100, 88, 0)


def test_cautions_and_nonsense() -> None:
    bed = calculations()["coke-bed"].run(diameter=750, height=1500)
    assert any("carbon monoxide" in words for words in bed.warnings)
    lean = calculations()["coke-per-hour"].run(rate=2000, ratio=14)
    assert any("colder" in words for words in lean.warnings)
    assert not calculations()["coke-per-hour"].run(rate=2000, ratio=8).warnings
    with pytest.raises(OutOfRange, match="diameter"):
        shaft_area(0)
    with pytest.raises(OutOfRange, match="ratio of iron to coke"):
        coke_per_hour(1000, 0)
