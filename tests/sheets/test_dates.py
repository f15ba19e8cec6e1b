"""Dates and times in the usual forms, held against ``strptime`` of the standard library."""

from __future__ import annotations

from datetime import date, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.basics.errors import Fault
from diagnose.sheets.dates import Moment, clock_in, day_in_words, days_in, moment_of, shared
from diagnose.sheets.table import Cell

FORMS = {
    "%Y-%m-%d": "", "%Y/%m/%d": "", "%Y%m%d": "", "%d %b %Y": "", "%d-%b-%y": "", "%d %B %Y": "",
    "%B %d, %Y": "", "%b %d %Y": "", "%a %d %b %Y": "", "%A, %d.%m.%Y": "dmy", "%d.%m.%Y": "dmy",
    "%d/%m/%Y": "dmy", "%d-%m-%Y": "dmy", "%d.%m.%y": "dmy", "%d/%m/%y": "dmy", "%m/%d/%Y": "mdy",
    "%m/%d/%y": "mdy", "%y-%m-%d": "ymd",
}  # fmt: skip
"""Form -> the one order in which it is right, or none where there is only one way to read it."""
DAYS = st.dates(date(2000, 1, 1), date(2099, 12, 31))


@given(DAYS, st.sampled_from(sorted(FORMS)))
def test_a_date_is_among_the_ways_to_read_it(day: date, form: str) -> None:
    ways = days_in(day.strftime(form))
    assert ways[FORMS[form] or "dmy"] == day
    if not FORMS[form]:
        assert set(ways.values()) == {day}


@given(DAYS, st.times(time(0, 1)), st.sampled_from(["%H:%M", "%H:%M:%S", "%I:%M %p", "%H%M"]))
def test_a_time_of_day(day: date, clock: time, form: str) -> None:
    expected = datetime.strptime(clock.strftime(form), form).time()
    assert clock_in(clock.strftime(form)) == expected
    if form != "%H%M" and expected != time.min:
        assert clock_in(f"{day} {clock.strftime(form)}") == expected
        assert set(days_in(f"{day} {clock.strftime(form)}").values()) == {day}


@given(st.datetimes(datetime(2000, 1, 1), datetime(2099, 12, 31)))
def test_what_a_spreadsheet_holds_is_taken_as_it_is(at: datetime) -> None:
    at = at.replace(microsecond=0)
    assert set(days_in(at).values()) == {at.date()}
    assert set(days_in(at.date()).values()) == {at.date()}
    assert clock_in(at) == (at.time() if at.time() != time.min else None)
    assert clock_in(at.time()) == at.time()


@pytest.mark.parametrize(
    "cell",
    [
        "Mean", "", "31/02/2026", "14.03.", "14/3", "2026", "2026-13-01", "32 Mar 2026",
        "14 Mars 2026", 46095.0, 4.6, None, "4.6", "1,310",
    ],
)  # fmt: skip
def test_what_is_no_date(cell: Cell) -> None:
    assert days_in(cell) == {}


@pytest.mark.parametrize("cell", ["25:00", "6:75", "6.30", "13 pm", "morning", "630", None, 0.25])
def test_what_is_no_time_of_day(cell: Cell) -> None:
    assert clock_in(cell) is None


def test_midnight_behind_a_date_is_what_stands_where_no_time_was_given() -> None:
    assert clock_in("2026-03-14 00:00:00") is None
    assert clock_in(datetime(2026, 3, 14)) is None
    assert clock_in("00:00") == time.min


def test_one_date_can_settle_the_order_of_all() -> None:
    assert shared([days_in("03/04/2026"), days_in("04/04/2026")]) == ["dmy", "mdy"]
    assert shared([days_in("03/04/2026"), days_in("14/04/2026")]) == ["dmy"]
    assert shared([days_in("13/04/2026"), days_in("04/14/2026")]) == []


def test_what_a_person_types_is_never_guessed() -> None:
    assert moment_of("14.3.2026 15:30", "x") == Moment(date(2026, 3, 14), time(15, 30))
    assert str(moment_of("2026-03-14T06:05", "x")) == "14 March 2026 06:05"
    with pytest.raises(Fault, match=r"may be 4 March 2026 or 3 April 2026. Write 2026-03-04"):
        moment_of("03/04/2026", "--date")
    with pytest.raises(Fault, match="--date: 'soon' is no date"):
        moment_of("soon", "--date")
    with pytest.raises(Fault, match="'25:10' is no time of day"):
        moment_of("2026-03-14 25:10", "--poured")
    assert day_in_words(date(2026, 11, 9)) == "9 November 2026"
