"""The elements as inputs: one that is left out, and what an iron can hold of each."""

from __future__ import annotations

import pytest

from diagnose.shop import elements
from diagnose.shop.calculation import Input, OutOfRange
from diagnose.shop.catalogue import calculations

ELEMENTS = [one for one in vars(elements).values() if isinstance(one, Input)]
SUMS = [
    (each.name, one.name)
    for each in calculations().values()
    for one in each.inputs
    if one.name in {element.name for element in ELEMENTS}
]


def test_an_element_left_out_counts_as_nil() -> None:
    """The carbon equivalent with no phosphorus told is that of an iron that holds none."""
    run = calculations()["carbon-equivalent"].run
    told = run(carbon=3.4, silicon=2.0, phosphorus=0.0)
    assert run(carbon=3.4, silicon=2.0).value == told.value
    assert run(carbon=3.4, silicon=2.0, phosphorus=0.6).value > told.value


def test_an_element_that_a_sum_cannot_do_without_is_asked_for() -> None:
    with pytest.raises((TypeError, OutOfRange), match="silicon"):
        calculations()["carbon-equivalent"].run(carbon=3.4)


def test_the_usual_irons_lie_in_the_ranges() -> None:
    """A grey iron for machine parts and a soft iron for thin walls; common practice, no source."""
    machine = {"carbon": 3.2, "silicon": 1.8, "manganese": 0.7, "phosphorus": 0.1, "sulphur": 0.1}
    thin = {"carbon": 3.5, "silicon": 2.7, "manganese": 0.5, "phosphorus": 1.0, "sulphur": 0.08}
    by_name = {one.name: one for one in ELEMENTS}
    for iron in (machine, thin):
        for name, share in iron.items():
            assert [*by_name[name].problems(share)] == []
            assert [*by_name[name].problems(101.0)] != []


def test_every_element_is_used_by_a_sum_under_its_own_name() -> None:
    assert {name for _, name in SUMS} == {element.name for element in ELEMENTS}
