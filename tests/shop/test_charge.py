"""The charge: mixtures, allowances, and tables that do not match."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.charge import SEEN, USUAL, Change, before_melting, melted, mixed

NAMES = ("pig", "returns", "scrap", "steel")
WEIGHTS = st.fixed_dictionaries({name: st.floats(1, 500) for name in NAMES})
CONTENTS = st.fixed_dictionaries({name: st.floats(0, 5) for name in NAMES})


@given(WEIGHTS, CONTENTS, st.floats(0.1, 100))
def test_a_mixture_lies_between_its_parts_in_any_unit(
    weights: dict[str, float], contents: dict[str, float], scale: float
) -> None:
    found = mixed(weights, contents)
    assert min(contents.values()) - 1e-9 <= found <= max(contents.values()) + 1e-9
    scaled = {name: weight * scale for name, weight in weights.items()}
    assert mixed(scaled, contents) == pytest.approx(found)


@given(WEIGHTS, CONTENTS)
def test_no_element_is_lost_on_the_way(
    weights: dict[str, float], contents: dict[str, float]
) -> None:
    brought = math.fsum(weights[name] * contents[name] for name in NAMES)
    assert mixed(weights, contents) * sum(weights.values()) == pytest.approx(brought)


@given(st.floats(0.01, 5), st.floats(-0.005, 1), st.floats(0, 60))
def test_melting_there_and_back(content: float, gain: float, loss: float) -> None:
    change = Change(gain, loss)
    assert before_melting(melted(content, change), change) == pytest.approx(content)


def test_usual_allowances_lie_in_the_old_ranges() -> None:
    # Metallurgy of Cast Iron, p. 303-304 (read) against the textbook (read), on a charge of 2 %
    # silicon and 0.7 % manganese.
    for element, content in (("silicon", 2.0), ("manganese", 0.7), ("sulphur", 0.05)):
        low, high = SEEN[element]
        assert low <= round(melted(content, USUAL[element]) - content, 9) <= high


def test_tables_must_name_the_same_materials() -> None:
    with pytest.raises(OutOfRange) as caught:
        mixed({"pig": 100, "steel": 20}, {"pig": 3.5, "scrap": 3.3})
    assert caught.value.problems == (
        "steel: no content is given for it.",
        "scrap: no weight is given for it.",
    )
    with pytest.raises(OutOfRange, match="nothing is weighed in"):
        mixed({"pig": 0.0}, {"pig": 3.5})
    with pytest.raises(OutOfRange, match="right would be 0 or more"):
        mixed({"pig": -1.0, "scrap": 3}, {"pig": 3.5, "scrap": 3.3})


def test_a_loss_out_of_the_ordinary_is_named() -> None:
    one = calculations()["melting-change"]
    assert any(
        "blast" in words for words in one.run(element="silicon", charged=2, tapped=1.5).warnings
    )
    assert not one.run(element="silicon", charged=2.0, tapped=1.8).warnings
    with pytest.raises(OutOfRange, match="less than nothing"):
        calculations()["charge-element"].run(weights={"pig": 1}, contents={"pig": 0.1}, gain=-0.5)


def test_working_shows_each_material() -> None:
    worked = calculations()["charge-element"].run(
        weights={"pig": 40, "scrap": 60}, contents={"pig": 3.5, "scrap": 3.2}, gain=0.15
    )
    assert "pig: 40 x 3.5 % = 1.4" in worked.working
    assert worked.value == pytest.approx(3.47)
