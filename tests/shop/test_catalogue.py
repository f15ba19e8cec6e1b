"""What must hold of every sum in the catalogue, whoever wrote it."""

from __future__ import annotations

import inspect
import math
import subprocess
import sys
from collections.abc import Iterator

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


def _at_the_bounds(each: Calculation) -> Iterator[dict[str, float | str]]:
    """Yield every input at either end of its range, the others in the middle of theirs."""
    middle: dict[str, float | str] = {}
    for one in each.inputs:
        if one.choices:
            middle[one.name] = one.choices[0]
        elif isinstance(one.default, float | int):
            middle[one.name] = one.default
        else:
            low, high = max(one.low, -1e6), min(one.high, 1e6)
            middle[one.name] = math.sqrt(low * high) if low > 0 else (low + high) / 2
    for one in each.inputs:
        ends = one.choices or (max(one.low, -1e9), min(one.high, 1e9))
        yield from ({**middle, one.name: end} for end in ends)


@pytest.mark.parametrize(
    "each",
    [each for each in ALL if not any(one.table for one in each.inputs)],
    ids=lambda each: each.name,
)
def test_at_the_bounds_it_answers_or_says_why_not(each: Calculation) -> None:
    for values in _at_the_bounds(each):
        try:
            worked = each.run(**values)
        except OutOfRange as refusal:
            assert refusal.problems, values  # noqa: PT017 - an answer is as good
        else:
            assert worked.unit == each.unit
            assert worked.source
            assert worked.working
            assert all(isinstance(line, str) and line for line in worked.working)
            assert all(isinstance(line, str) and line for line in worked.warnings)


def test_names_come_in_order() -> None:
    assert list(calculations()) == sorted(calculations())


def test_the_catalogue_loads_without_numpy() -> None:
    code = (
        "import sys; from diagnose.shop.catalogue import calculations; calculations();"
        "sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
