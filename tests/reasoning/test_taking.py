"""What is taken down of a reject is held against the rule base first."""

from __future__ import annotations

import pytest

from diagnose.basics.errors import Fault
from diagnose.reasoning.taking import (
    check_found,
    look_found,
    measurement_found,
    measurement_named,
    named_found,
    ruled_out_found,
)
from diagnose.reject.found import Looked, RuledOut
from diagnose.session.session import Session


def test_every_name_of_a_measurement_finds_it(session: Session) -> None:
    for entry, measurement in session.book.measurements.items():
        for name in (entry, measurement.name, *measurement.also):
            assert measurement_named(session.book, f" {name.upper()} ") == entry


def test_a_sample_cannot_be_younger_than_nothing(session: Session) -> None:
    with pytest.raises(Fault, match="cannot be -2 h old"):
        session.measure("sand-moisture", "7 % (-2 h old)")


@pytest.mark.parametrize(
    ("take", "words"),
    [
        (lambda book: look_found(book, "cavity-wal", "smooth"), "Did you mean 'cavity-wall'"),
        (lambda book: look_found(book, "cavity-wall", "smoth"), "has no answer 'smoth'. It takes"),
        (lambda book: look_found(book, "core-vent-open", "no"), "It is a check; take it down as"),
        (lambda book: check_found(book, "cavity-wall", "smooth"), "It is a look; take it down as"),
        (lambda book: named_found(book, "cold-shat"), "Did you mean "),
        (lambda book: ruled_out_found(book, "cavity-wall", []), "no answer is named"),
        (lambda book: measurement_found(book, "sand-moisture", "46 degC"), "degC"),
        (lambda book: measurement_found(book, "sand-moisture", "99 %"), "It lies between"),
    ],
)
def test_what_cannot_be_is_refused_with_the_way_out(
    session: Session, take: object, words: str
) -> None:
    assert callable(take)
    with pytest.raises(Fault, match=words):
        take(session.book)


def test_several_answers_are_ruled_out_together(session: Session) -> None:
    found = ruled_out_found(session.book, "cavity-wall", ["smooth", "jagged"], "neither")
    assert found == RuledOut("cavity-wall", ("smooth", "jagged"), "neither")
    assert look_found(session.book, "cavity-wall", "smooth") == Looked("cavity-wall", "smooth")
