"""The word ``work``: whether a line asks for a sum, and what is then told and asked."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.reject.reject import Reject
from diagnose.session.autosave import Bench, new_bench
from diagnose.session.session import Session
from diagnose.session.shelf import Shelf
from diagnose.terminal.plain.console import EndOfInput, Talk
from diagnose.terminal.plain.work import is_asked_for, work_out


@pytest.fixture
def bench(start: Callable[..., Session], tmp_path: Path) -> Bench:
    return new_bench(start(Reject(name="cover")), Shelf(tmp_path))


def worked(bench: Bench, text: str, *lines: str) -> str:
    """Return all that is printed for the word with this text behind it."""
    stdout = io.StringIO()
    talk = Talk(io.StringIO("".join(f"{line}\n" for line in lines)), stdout)
    work_out(bench, talk, text)
    return stdout.getvalue()


@pytest.mark.parametrize(
    ("text", "asked"),
    [("", True), ("sand", True), ("moisture moist=50g", True), ("water addition", True),
     ("came out with holes", False), ("on the second shift", False)],
)  # fmt: skip
def test_a_line_that_asks_for_a_sum_is_told_from_a_phrase(text: str, asked: bool) -> None:
    assert is_asked_for(text) is asked


def test_a_sum_with_all_its_figures_asks_nothing(bench: Bench) -> None:
    """50 g moist and 48 g dry: 2 g of 50 are 4 %."""
    said = worked(bench, "moisture moist=50g dry=48g")
    assert "4 %" in said
    assert " > " not in said


def test_what_the_readings_say_is_taken_over_and_said(bench: Bench) -> None:
    bench.session.measure("moulding sand moisture", "3 %")
    said = worked(bench, "water addition", "100 kg", "4 %")
    assert "From the readings: moisture 3 %" in said
    assert said.count(" > ") == 2


def test_what_was_said_goes_before_the_readings(bench: Bench) -> None:
    bench.session.measure("moulding sand moisture", "3 %")
    said = worked(bench, "water addition moisture=2% batch=100kg target=4%")
    assert "From the readings" not in said


def test_a_figure_that_cannot_be_is_asked_for_again(bench: Bench) -> None:
    said = worked(bench, "moisture moist=50g", "wet", "48 g")
    assert "4 %" in said
    assert said.count("dry > ") == 2


def test_an_empty_line_leaves_the_sum_unworked(bench: Bench) -> None:
    said = worked(bench, "moisture moist=50g", "")
    assert "An empty line leaves the sum." in said
    assert "4 %" not in said


def test_the_end_of_input_is_the_end_of_the_talk(bench: Bench) -> None:
    with pytest.raises(EndOfInput):
        worked(bench, "moisture moist=50g")


def test_a_sum_that_is_not_there_is_told_with_the_nearest(bench: Bench) -> None:
    said = worked(bench, "mositure moist=50g")
    assert "moisture" in said


def test_a_quotation_mark_that_is_not_closed_is_no_fault(bench: Bench) -> None:
    assert "'sand" in worked(bench, "'sand moist=1g")
    assert "The matters: " in worked(bench, "")


def test_the_reject_is_not_changed_by_a_sum(bench: Bench) -> None:
    before = bench.session.reject
    worked(bench, "moisture moist=50g dry=48g")
    assert bench.session.reject == before
