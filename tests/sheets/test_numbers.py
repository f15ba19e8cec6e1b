"""Numbers with either decimal mark, held against Python's own way of writing them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.sheets.numbers import is_nothing, numbers_in, shared_marks
from diagnose.sheets.table import Cell

SWAP = str.maketrans(".,", ",.")


@given(st.decimals(-(10**9), 10**9, places=2), st.sampled_from(["", ",", " ", "'"]))
def test_a_number_reads_back_with_its_decimal_mark(number: float, groups: str) -> None:
    text = f"{number:,.2f}".replace(",", groups)
    assert numbers_in(text)[0]["."] == float(number)
    assert numbers_in(text.translate(SWAP))[0][","] == float(number)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_what_python_writes_reads_back(number: float) -> None:
    assert numbers_in(repr(number))[0]["."] == number


@pytest.mark.parametrize(
    ("cell", "ways"),
    [
        ("1,310", {".": 1310.0, ",": 1.31}),
        ("1.310", {".": 1.31, ",": 1310.0}),
        ("0.125", {".": 0.125}),
        ("1.310,5", {",": 1310.5}),
        ("\u22124.6", {".": -4.6}),
        ("12,34", {",": 12.34}),
    ],
)
def test_three_figures_behind_a_mark_can_be_either(cell: Cell, ways: dict[str, float]) -> None:
    assert numbers_in(cell) == (ways, "")


@pytest.mark.parametrize("cell", ["damp", "<0.01", "1.2.3", "1 31", "", None, "=B2/C2", "#DIV/0!"])
def test_what_is_no_number(cell: Cell) -> None:
    assert numbers_in(cell) == ({}, "")


def test_what_stands_behind_a_number_is_kept() -> None:
    assert numbers_in("4.6 %")[1] == "%"
    assert numbers_in("4.4 / 4.6")[1] == "/ 4.6"


def test_one_cell_can_settle_the_mark_of_all() -> None:
    assert shared_marks(["1,310", "4,6"]) == [","]
    assert shared_marks(["1,310", None, "n/a"]) == [".", ","]
    assert shared_marks(["4.6", "4,6"]) == []


@pytest.mark.parametrize("cell", [None, "-", "n/a", "N.D.", "not done", "\u2014"])
def test_what_says_that_nothing_was_measured(cell: Cell) -> None:
    assert is_nothing(cell)
    assert not is_nothing("0")
