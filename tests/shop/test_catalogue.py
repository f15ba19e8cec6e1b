"""What must hold of every sum in the catalogue, whoever wrote it."""

from __future__ import annotations

import inspect
import math
import subprocess
import sys

import pytest

from diagnose.shop.calculation import Calculation, OutOfRange
from diagnose.shop.catalogue import calculations

ALL = list(calculations().values())


@pytest.mark.parametrize("each", ALL, ids=lambda each: each.name)
def test_inputs_are_what_the_work_takes(each: Calculation) -> None:
    names = [one.name for one in each.inputs]
    assert names == list(inspect.signature(each.work).parameters)
    assert len(names) == len(set(names))


@pytest.mark.parametrize("each", ALL, ids=lambda each: each.name)
def test_words_are_there(each: Calculation) -> None:
    assert each.title
    assert each.source
    assert each.name == each.name.lower()
    assert " " not in each.name
    assert "_" not in each.name
    for one in each.inputs:
        assert one.what
        assert one.choices or one.low < one.high, f"{each.name}: {one.name}"
        if isinstance(one.default, float | int):
            assert one.low <= one.default <= one.high, f"{each.name}: {one.name}"
        if one.choices and one.default is not None:
            assert one.default in one.choices


@pytest.mark.parametrize("each", ALL, ids=lambda each: each.name)
def test_a_bad_reading_is_named_with_its_range(each: Calculation) -> None:
    bad = {
        one.name: {"x": math.nan} if one.table else ("?" if one.choices else math.nan)
        for one in each.inputs
    }
    with pytest.raises(OutOfRange) as caught:
        each.run(**bad)
    assert len(caught.value.problems) == len(each.inputs)
    for one, problem in zip(each.inputs, caught.value.problems, strict=True):
        assert problem.startswith(one.words)
        assert one.range in problem


@pytest.mark.parametrize("each", ALL, ids=lambda each: each.name)
def test_everything_missing_is_said_at_once(each: Calculation) -> None:
    wanted = [one for one in each.inputs if one.default is None]
    assert wanted, f"{each.name} works nothing out"
    with pytest.raises(OutOfRange) as caught:
        each.run()
    assert len(caught.value.problems) == len(wanted)


def test_names_come_in_order() -> None:
    assert list(calculations()) == sorted(calculations())


def test_the_catalogue_loads_without_numpy() -> None:
    code = (
        "import sys; from diagnose.shop.catalogue import calculations; calculations();"
        "sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
