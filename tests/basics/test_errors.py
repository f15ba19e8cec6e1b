"""Faults as they are printed: where, what, and the way out."""

from __future__ import annotations

import pytest

from diagnose.basics.errors import Fault, Place, Problem


@pytest.mark.parametrize(
    ("place", "printed"),
    [
        (Place(), "It is wrong. Mend it."),
        (Place("a.yaml"), "a.yaml: It is wrong. Mend it."),
        (Place("a.yaml", 3, 7), "a.yaml:3:7: It is wrong. Mend it."),
    ],
)
def test_a_problem_says_where_what_and_the_way_out(place: Place, printed: str) -> None:
    assert str(Problem(place, "It is wrong.", "Mend it.")) == printed
    assert str(Problem(place, "It is wrong.")) == printed.removesuffix(" Mend it.")


def test_problems_are_sorted_by_line_as_numbers_and_not_as_text() -> None:
    places = [Place("a", 10, 1), Place("a", 9, 2), Place("a", 9, 1), Place("a")]
    problems = sorted(Problem(place, "x") for place in places)
    assert [one.place.line for one in problems] == [0, 9, 9, 10]
    assert [one.place.column for one in problems] == [0, 1, 2, 1]


def test_a_fault_tells_every_problem_a_line_each() -> None:
    fault = Fault("Plain words.", Problem(Place("a", 1, 2), "More."))
    assert str(fault) == "Plain words.\na:1:2: More."
    assert [one.place for one in fault.problems] == [Place(), Place("a", 1, 2)]
