"""The tables of the pack: nothing in them is a formula to a table program, numbers are numbers.

What makes a cell a formula: common practice of table programs (=, +, -, @, tab, carriage return at
the start). The workbook is read back with openpyxl and, as others would, with python-calamine.
"""

from __future__ import annotations

import csv
import io
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook
from python_calamine import CalamineWorkbook

from diagnose.batch.actions import Action
from diagnose.batch.pack.tables import RISKY, Sheet, as_csv, safe, tables
from diagnose.batch.pack.workbook import as_workbook
from tests.batch.example import BATCH

EVIL = ["=1+1", "+1", "-1+cmd|' /C calc'!A0", "@SUM(A1)", "\t=1", "\r=1", "\n=1", " =1", "\uff1d1"]
ACTIONS = [Action("=HYPERLINK(1)", "@A. Example", date(2026, 4, 3))]


def rows_of(content: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))


@pytest.mark.parametrize("text", EVIL)
def test_no_text_is_taken_for_a_formula(text: str) -> None:
    assert rows_of(as_csv(Sheet("t", ("a",), ((text,),))))[1] == [f"'{text}"]
    held = load_workbook(io.BytesIO(as_workbook([Sheet("t", ("a",), ((text,),))])))["t"]["A2"]
    assert held.data_type == "s"
    assert held.quotePrefix


@given(st.text(max_size=20))
def test_no_cell_of_a_csv_begins_like_a_formula(text: str) -> None:
    cell = str(safe(text))
    assert not cell.startswith(RISKY)
    assert not cell.lstrip().startswith(RISKY)


def test_numbers_stay_numbers() -> None:
    sheet = Sheet("t", ("a", "b", "c"), ((-3.5, 4, None), (float("inf"), float("nan"), 0.0)))
    text = as_csv(sheet).decode("utf-8-sig").splitlines()
    assert text == ['"a","b","c"', '-3.5,4,""', '"beyond measure","",0.0']
    page = load_workbook(io.BytesIO(as_workbook([sheet])))["t"]
    assert (page["A2"].value, page["A2"].data_type) == (-3.5, "n")
    assert page["C2"].value is None


def test_every_part_of_the_batch_is_in_the_tables() -> None:
    held = {sheet.name: sheet for sheet in tables(BATCH, ACTIONS)}
    assert [*held] == [
        "pareto", "concentration", "readings", "set-aside", "unknown-words", "actions",
    ]  # fmt: skip
    for name, count in (("pareto", 6), ("concentration", 4), ("set-aside", 6), ("actions", 1)):
        assert len(held[name].rows) == count
    for sheet in held.values():
        assert {len(row) for row in sheet.rows} <= {len(sheet.headings)}


def test_csv_and_workbook_say_the_same() -> None:
    sheets = tables(BATCH, ACTIONS)
    book = CalamineWorkbook.from_filelike(io.BytesIO(as_workbook(sheets)))
    for sheet in sheets:
        theirs = book.get_sheet_by_name(sheet.name).to_python()
        assert len(theirs) == len(rows_of(as_csv(sheet))) == len(sheet.rows) + 1
    aside = book.get_sheet_by_name("set-aside").to_python()
    assert "=SUM(D2:D310)" in [row[3] for row in aside]
    assert "'=SUM(D2:D310)" in [row[3] for row in rows_of(as_csv(sheets[3]))]


def test_signs_that_a_workbook_cannot_hold_are_left_out() -> None:
    content = as_workbook([Sheet("t", ("a",), (("bell\x07",), ("x" * 40_000,)))])
    page = load_workbook(io.BytesIO(content))["t"]
    assert page["A2"].value == "bell "
    assert len(page["A3"].value) == 32_000
