"""Readings of a sheet taken down for a reject: nothing that it has is lost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from diagnose.reasoning.taking import measurement_found
from diagnose.reject.found import Measured, Unsure
from diagnose.session.library import Library
from diagnose.session.session import Session
from diagnose.sheets.dates import moment_of
from diagnose.sheets.given import Given
from diagnose.sheets.into import found_on, outcome_in_words, take_down
from tests.sheets.shop import BOOK, FILES, read

DAY = Given(day=date(2026, 3, 14))
SAND = FILES / "sand-march.csv"
WET = Measured("sand-moisture", readings=(5.9,), said="5.9 %")


@pytest.fixture
def at_work() -> Session:
    from diagnose.reject.reject import Reject

    return Session(Library(BOOK), Reject())


def test_several_readings_are_one_finding() -> None:
    moisture, perm = found_on(read(SAND, DAY))
    assert (moisture.id, moisture.readings, moisture.said) == (
        "sand-moisture", (4.4, 4.6), "4.4; 4.6 %",
    )  # fmt: skip
    assert (perm.readings, perm.said) == ((82.0, 79.0), "82; 79 AFS")


def test_other_units_are_turned_into_that_of_the_measurement() -> None:
    sheet = read(SAND, replace(DAY, columns=(("Temp °F", "sand temp"),)))
    found = {one.id: one for one in found_on(sheet)}["sand-temperature"]
    assert found.said == "93; 101 degF"
    assert found.readings == pytest.approx((33.888889, 38.333333))  # (F - 32) / 1.8


def test_units_that_differ_stand_with_each_reading() -> None:
    sheet = read(SAND, DAY)
    first, second = sheet.taken[:2]
    mixed = replace(sheet, taken=(first, replace(second, value=46000.0, unit="ppm")))
    assert found_on(mixed)[0].said == "4.4 %; 46000 ppm"
    assert found_on(mixed)[0].readings == pytest.approx((4.4, 4.6))


@pytest.mark.parametrize(
    ("poured", "said", "age"),
    [
        ("2026-03-14 15:30", "4.4; 4.6 % (9 h old)", 9.0),
        ("2026-03-14 13:30", "4.4; 4.6 % (7 h old)", 7.0),
        ("2026-03-14 10:00", "4.4; 4.6 % (210 min old)", 3.5),
        ("2026-03-15", "4.4; 4.6 % (24 h old)", 24.0),
        ("2026-03-14", "4.4; 4.6 %", 0.0),
    ],
)
def test_the_age_of_the_sample_goes_along(poured: str, said: str, age: float) -> None:
    """That of the one farthest off; after the pouring is as far off as before."""
    found = found_on(read(SAND, replace(DAY, poured=moment_of(poured, "x"))))[0]
    assert (found.said, found.age) == (said, age)


def test_what_the_reject_has_already_is_kept_and_told(at_work: Session) -> None:
    at_work.add(WET)
    outcome = take_down(at_work, found_on(read(SAND, DAY)))
    assert at_work.reject.about("sand-moisture") == WET
    assert at_work.reject.about("sand-permeability") is not None
    assert outcome_in_words(at_work, outcome) == [
        "Taken down: permeability of the sand, 82; 79 AFS.",
        "Left as it is: moulding sand moisture, 5.9 %; the sheet says 4.4; 4.6 %.",
    ]


def test_that_it_could_not_be_told_is_kept_too(at_work: Session) -> None:
    at_work.unsure("sand-moisture")
    outcome = take_down(at_work, found_on(read(SAND, DAY)))
    assert outcome.kept[0][0] == Unsure("sand-moisture")
    assert "moulding sand moisture, not sure; the sheet says" in " ".join(
        outcome_in_words(at_work, outcome)
    )


def test_it_is_put_over_where_that_is_said(at_work: Session) -> None:
    at_work.add(WET)
    outcome = take_down(at_work, found_on(read(SAND, DAY)), over=True)
    assert (len(outcome.added), outcome.kept) == (2, ())
    taken = at_work.reject.about("sand-moisture")
    assert taken is not None
    assert taken.readings == (4.4, 4.6)


def test_the_same_reading_is_no_conflict(at_work: Session) -> None:
    found = found_on(read(SAND, DAY))
    take_down(at_work, found)
    before = at_work.reject
    outcome = take_down(at_work, found)
    assert (len(outcome.same), outcome.added, outcome.kept) == (2, (), ())
    assert at_work.reject == before
    assert outcome_in_words(at_work, outcome)[0] == (
        "Stood there already: moulding sand moisture, 4.4; 4.6 %."
    )


def test_a_reading_of_another_age_is_another_reading(at_work: Session) -> None:
    at_work.add(measurement_found(BOOK, "sand-moisture", "4.4; 4.6 % (9 h old)"))
    assert len(take_down(at_work, found_on(read(SAND, DAY))).kept) == 1


def test_the_readings_count_as_if_they_had_been_typed(start: Callable[..., Session]) -> None:
    by_sheet, by_hand = start(), start()
    take_down(by_sheet, found_on(read(SAND, DAY)))
    by_hand.measure("moulding sand moisture", "4.4, 4.6 %")
    by_hand.measure("permeability of the sand", "82, 79 AFS")
    assert by_sheet.causes() == by_hand.causes()
