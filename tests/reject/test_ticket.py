"""What goes with a reject: how people write it, and what cannot be (common practice, no source)."""

from __future__ import annotations

from dataclasses import fields
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.basics.errors import Fault
from diagnose.reject.one_line import one_line
from diagnose.reject.ticket import ENTRIES, HINTS, LONGEST, Ticket, day_of


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-03-14", "2026-03-14"), ("2026/3/4", "2026-03-04"), ("14.3.2026", "2026-03-14"),
        ("14/3/2026", "2026-03-14"), ("3/14/2026", "2026-03-14"), ("4/4/2026", "2026-04-04"),
        ("14 March 2026", "2026-03-14"), ("4. Sept 2026", "2026-09-04"),
    ],
)  # fmt: skip
def test_days_as_people_write_them(text: str, day: str) -> None:
    assert day_of(text) == day


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("3/4/2026", "could be two days"), ("31.2.2026", "no day of any calendar"),
        ("14 Mai-ish 2026", "cannot be read as a day"), ("14 Xyz 2026", "no day of any calendar"),
        ("1826-03-14", "Is the year right?"), ("tuesday", "2026-03-14"),
    ],
)  # fmt: skip
def test_what_is_no_day_is_told_with_the_way_out(text: str, says: str) -> None:
    with pytest.raises(Fault, match=says.replace("?", r"\?")):
        Ticket().with_entry("date", text)


@given(st.dates(date(1950, 1, 1), date(2100, 12, 31)))
def test_a_day_reads_back(day: date) -> None:
    assert day_of(day.isoformat()) == day_of(f"{day.day}.{day.month}.{day.year}") == str(day)


@pytest.mark.parametrize(
    ("text", "counts", "again"),
    [("6 of 40", (6, 40), "6 of 40"), ("6/40", (6, 40), "6 of 40"), ("6", (6, None), "6"),
     ("6 out of 40 castings", (6, 40), "6 of 40"), ("40 of 40", (40, 40), "40 of 40")],
)  # fmt: skip
def test_how_many_of_how_many(text: str, counts: tuple[int, int | None], again: str) -> None:
    ticket = Ticket().with_entry("bad", text)
    assert (ticket.bad, ticket.of) == counts
    assert ticket.entry("bad") == again
    assert not ticket.with_entry("bad", "").known


@pytest.mark.parametrize(
    ("text", "says"),
    [("40 of 6", "6 of 40"), ("0 of 40", "At least one"), ("some", "6 of 40"),
     ("-1 of 4", "6 of 40"), ("1 of 9999999", "No lot has more")],
)  # fmt: skip
def test_counts_that_cannot_be(text: str, says: str) -> None:
    with pytest.raises(Fault, match=says):
        Ticket().with_entry("bad", text)


@given(st.sampled_from([n for n in ENTRIES if n not in ("bad", "date")]), st.text())
def test_whatever_is_written_stands_on_one_line_or_is_refused(name: str, text: str) -> None:
    if len(one_line(text)) > LONGEST:
        with pytest.raises(Fault, match="characters"):
            Ticket().with_entry(name, text)
        return
    told = Ticket().with_entry(name, text).entry(name)
    assert len(told) <= LONGEST
    assert told.isprintable()
    assert Ticket().with_entry(name, told).entry(name) == told


def test_every_entry_has_a_label_and_a_hint() -> None:
    assert {one.name for one in fields(Ticket)} == {*ENTRIES, "of"}
    assert ENTRIES.keys() == HINTS.keys()
