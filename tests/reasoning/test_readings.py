"""Readings against their windows, and what follows from them."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from diagnose.reasoning.readings import reading_of
from diagnose.reject.found import Measured
from diagnose.session.session import Session
from tests import actions


def found(*values: float) -> Measured:
    return Measured("sand-moisture", readings=values)


@pytest.mark.parametrize(
    ("values", "words", "speaks_for"),
    [
        ((2.0,), "below its window", "moulding sand too dry"),
        ((3.9,), "within its window", None),
        ((6.5,), "above its window", "moulding sand too wet"),
    ],
)
def test_a_reading_held_against_its_window(
    session: Session, values: tuple[float, ...], words: str, speaks_for: str | None
) -> None:
    reading = reading_of(session.desk, found(*values))
    assert reading.words == words
    assert (speaks_for is None) == (reading.speaks_for == ())
    assert speaks_for is None or speaks_for in reading.speaks_for


def test_a_reading_on_the_edge_is_only_probably_out(session: Session) -> None:
    high = reading_of(session.desk, found(3.9)).high
    assert high is not None
    measurement = session.book.measurements["sand-moisture"]
    just_over = reading_of(session.desk, found(high + 0.2 * measurement.repeatability))
    assert just_over.words == "probably above its window"


@settings(max_examples=40)
@given(st.floats(0.3, 15), st.integers(1, 5))
def test_the_chances_are_those_of_the_normal_distribution(value: float, times: int) -> None:
    """Of the mean of the readings, with the spread of the test: held against scipy."""
    worked = actions.session()
    reading = reading_of(worked.desk, found(*[value] * times))
    spread = actions.BOOK.measurements["sand-moisture"].repeatability / times**0.5
    assert reading.low is not None
    assert reading.high is not None
    below = norm.cdf(reading.low, value, spread)
    above = norm.sf(reading.high, value, spread)
    assert reading.chances == pytest.approx((below, 1 - below - above, above), abs=1e-9)


def test_another_job_has_another_window(session: Session) -> None:
    session.measure("pouring-temperature", "1350 degC")
    thick = session.readings()[0]
    session.about(section="4 mm")
    thin = session.readings()[0]
    assert thin.low is not None
    assert thick.low is not None
    assert thin.low > thick.low
    assert thin.words != thick.words


def test_a_reading_without_a_window_says_so_and_nothing_else(session: Session) -> None:
    session.about(metal="aluminium", process="shell mould")
    before = session.probabilities.copy()
    reading = session.measure("nodularity", "85 %")
    assert (reading.low, reading.high) == (None, None)
    assert reading.words == "no window is known for this job"
    assert session.probabilities == pytest.approx(before)
    assert session.warnings() == [
        "No window is known for the nodularity of this job, so the reading says nothing."
    ]


def test_an_old_sample_says_less(session: Session) -> None:
    """Sand of this morning says less about the night shift: common practice, no source."""
    chances = []
    for text in ("7 %", "7 % (4 h old)", "7 % (24 h old)", "7 % (400 h old)"):
        session.measure("sand-moisture", text)
        wet = {cause.id: cause.probability for cause in session.causes()}["sand-too-wet"]
        chances.append(wet)
        session.take_back("sand-moisture")
    before = {cause.id: cause.probability for cause in session.causes()}["sand-too-wet"]
    assert chances == sorted(chances, reverse=True)
    assert chances[-1] == pytest.approx(before, rel=1e-6)


def test_what_follows_from_readings_is_worked_out(session: Session) -> None:
    """C + (Si + P)/3, the usual form (trade lexicon, read): 3.3 + (2.0 + 0.05)/3 = 3.983."""
    for name, text in (("carbon", "3.3 %"), ("silicon", "2.0 %"), ("phosphorus", "0.05 %")):
        session.measure(name, text)
    (worked,) = (r for r in session.readings() if r.id == "carbon-equivalent")
    assert worked.values == pytest.approx((3.98333,), abs=1e-4)
    assert worked.working
    session.measure("carbon-equivalent", "4.1 %")
    (measured,) = (r for r in session.readings() if r.id == "carbon-equivalent")
    assert (measured.values, measured.working) == ((4.1,), ())
