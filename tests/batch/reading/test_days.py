"""Dates are read in the orders that the sheet itself proves; none is guessed."""

from __future__ import annotations

from datetime import date

import pytest

from diagnose.basics.errors import Fault
from diagnose.batch.reading.days import days_of
from diagnose.batch.reading.given import Given
from diagnose.batch.reading.grid import coded
from tests.batch.reading.sheets import Desk

FIRST, THIRD = date(2026, 3, 1), date(2026, 1, 3)


def read(*cells: str | float, order: str = "") -> list[str]:
    days = days_of(coded(list(cells)), Given(order=order))
    assert days.question is None
    return [str(date.fromordinal(day)) if day else "" for day in days.days.tolist()]


def test_one_date_proves_the_order_of_the_others() -> None:
    assert read("3/1/2026", "14/1/2026") == ["2026-01-03", "2026-01-14"]
    assert read("1/3/2026", "1/14/2026") == ["2026-01-03", "2026-01-14"]


def test_each_form_is_proved_by_itself() -> None:
    """Two inspectors: one writes the day first, with strokes, the other the month, with dots."""
    assert read("3/1/2026", "14/1/2026", "1.3.26", "1.14.26") == [
        "2026-01-03", "2026-01-14", "2026-01-03", "2026-01-14",
    ]  # fmt: skip


def test_a_form_without_a_proof_takes_the_order_that_all_others_have() -> None:
    assert read("14/1/2026", "3.1.26", "2026-01-05", "6 Jan 2026") == [
        "2026-01-14", "2026-01-03", "2026-01-05", "2026-01-06",
    ]  # fmt: skip


def test_where_one_form_is_written_in_both_orders_nothing_is_guessed() -> None:
    cells = coded(["14/1/2026", "1/15/2026", "3/1/2026"])
    days = days_of(cells, Given())
    assert days.days.tolist()[2] == 0
    assert days.wrong.tolist() == [False, False, True]
    assert "may be two days" in days.why(2)
    assert any("both orders" in text for text in days.remarks)


def test_without_any_proof_the_order_is_asked_for(desk: Desk) -> None:
    rows = ("3/1/2026;P1;12;misrun;1;", "4/1/2026;P1;13;misrun;1;")
    with pytest.raises(Fault, match=r"what is '3/1/2026'.*--order dmy \(3 January.*--order mdy"):
        desk.read(*rows)
    assert desk.read(*rows, given=Given(order="mdy")).first == FIRST
    assert desk.read(*rows, given=Given(order="dmy")).first == THIRD


def test_dates_that_are_the_same_in_any_order_need_no_proof(desk: Desk) -> None:
    assert desk.read("3/3/2026;P1;12;misrun;1;").first == date(2026, 3, 3)


def test_days_counted_as_spreadsheets_do() -> None:
    """45992 is 1 December 2025 in a spreadsheet (days after 30 December 1899)."""
    assert read(45992.0, "2.12.2025", "14.12.2025")[0] == "2025-12-01"


def test_a_year_that_was_not_yet_changed_in_january_is_a_slip() -> None:
    cells = [f"{day}/1/2026" for day in range(5, 25)]
    days = days_of(coded([*cells, "14/1/2025"]), Given())
    assert days.wrong.tolist() == [False] * 20 + [True]


def test_years_of_data_are_no_slips() -> None:
    cells = [f"{day}/{month}/{year}" for year in range(2016, 2026) for month in (1, 7)
             for day in (5, 20)]  # fmt: skip
    assert not days_of(coded(list(cells)), Given()).wrong.any()
