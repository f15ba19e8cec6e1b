"""All faults of a file are collected, each with its place, and told together."""

from __future__ import annotations

import pytest

from diagnose.basics.errors import Fault, Problem
from diagnose.rulebase.faults import FaultsOf
from diagnose.rulebase.yamlread import read


def collected() -> FaultsOf:
    return FaultsOf(read(b"a: 1\nb:\n- x\n- y\n", "list.yaml", 100))


def test_faults_are_told_in_the_order_of_the_file() -> None:
    faults = collected()
    faults.fault(("b", 1), "late")
    faults.fault(("a",), "early", "Write another.", key=True)
    with pytest.raises(Fault) as raised:
        faults.raise_any()
    assert [problem.what for problem in raised.value.problems] == ["early", "late"]
    assert [problem.place.line for problem in raised.value.problems] == [1, 4]


def test_what_is_tried_gives_its_result_or_notes_what_is_wrong() -> None:
    faults = collected()

    def fail() -> int:
        raise Fault(Problem(faults.document.place_of(("a",)), "no", "yes"), "and no")

    assert faults.tried(("a",), lambda: 7) == 7
    assert faults.tried(("b", 0), fail) is None
    assert [problem.what for problem in faults.problems] == ["no", "and no"]
    assert {problem.place.line for problem in faults.problems} == {3}


def test_nothing_is_raised_where_nothing_is_wrong() -> None:
    collected().raise_any()
