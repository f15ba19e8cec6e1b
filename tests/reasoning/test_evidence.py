"""What was found, held against the rule base."""

from __future__ import annotations

import pytest

from diagnose.reasoning.evidence import excluding, known_answers
from diagnose.reject.found import Looked
from diagnose.reject.reject import Reject
from diagnose.session.session import Session


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


def test_one_thermometer_does_not_count_twice(session: Session) -> None:
    for name, text in (("carbon", "3.3 %"), ("silicon", "2.0 %")):
        session.measure(name, text)
    session.measure("pouring temperature", "1250 degC")
    desk = session.desk
    assert desk.findings["superheat"] in session.evidence.findings
    assert desk.findings["pouring-temperature"] not in session.evidence.findings
