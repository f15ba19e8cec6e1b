"""What was found, held against the rule base."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from diagnose.basics.errors import Fault
from diagnose.reasoning.evidence import excluding, known_answers
from diagnose.reasoning.readings import reading_of
from diagnose.reasoning.taking import measurement_named
from diagnose.reject.found import Found, Looked, Measured
from diagnose.reject.reject import Reject
from diagnose.session.session import Session
from tests import actions


def looks(**answers: str) -> Reject:
    return Reject(
        found=tuple(Looked(look.replace("_", "-"), answer) for look, answer in answers.items())
    )


def test_an_answer_says_what_must_hold_for_its_question_to_make_sense(session: Session) -> None:
    known = known_answers(session.book, looks(cavity_wall="smooth"))
    assert known == {
        "cavity-wall": frozenset({"smooth"}),
        "fault-form": frozenset({"hole", "foreign-matter"}),
    }


def test_what_two_answers_say_of_a_third_is_put_together(session: Session) -> None:
    known = known_answers(session.book, looks(cavity_wall="smooth", cavity_colour="bright"))
    assert known["fault-form"] == frozenset({"hole"})


def test_an_answer_given_counts_more_than_one_implied(session: Session) -> None:
    known = known_answers(session.book, looks(cavity_wall="smooth", fault_form="seam"))
    assert known["fault-form"] == frozenset({"seam"})


def test_answers_that_exclude_each_other_imply_nothing(session: Session) -> None:
    known = known_answers(session.book, looks(cavity_wall="smooth", seam_lips="sharp"))
    assert known.keys() == {"cavity-wall", "seam-lips"}


@pytest.mark.parametrize(
    ("answers", "pairs"),
    [
        ({"fault_form": "hole", "cavity_wall": "smooth"}, []),
        ({"fault_form": "seam", "cavity_wall": "smooth"}, [("fault-form", "cavity-wall")]),
        ({"cavity_wall": "smooth", "fault_form": "seam"}, [("cavity-wall", "fault-form")]),
        ({"cavity_wall": "smooth", "seam_lips": "sharp"}, [("cavity-wall", "seam-lips")]),
        ({"step_pattern": "one-side-only", "extra_form": "rough-lump"}, []),
        ({"skin": "good", "how_many": "some"}, []),
    ],
)
def test_answers_that_cannot_both_be_right(
    session: Session, answers: dict[str, str], pairs: list[tuple[str, str]]
) -> None:
    found = excluding(session.book, looks(**answers))
    assert [(earlier.id, later.id) for earlier, later in found] == pairs


def test_every_name_of_a_measurement_finds_it(session: Session) -> None:
    for entry, measurement in session.book.measurements.items():
        for name in (entry, measurement.name, *measurement.also):
            assert measurement_named(session.book, f" {name.upper()} ") == entry


def found(*values: float) -> Found:
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


def test_a_sample_cannot_be_younger_than_nothing(session: Session) -> None:
    with pytest.raises(Fault, match="cannot be -2 h old"):
        session.measure("sand-moisture", "7 % (-2 h old)")


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


def test_one_thermometer_does_not_count_twice(session: Session) -> None:
    for name, text in (("carbon", "3.3 %"), ("silicon", "2.0 %")):
        session.measure(name, text)
    session.measure("pouring temperature", "1250 degC")
    desk = session.desk
    assert desk.findings["superheat"] in session.evidence.findings
    assert desk.findings["pouring-temperature"] not in session.evidence.findings
