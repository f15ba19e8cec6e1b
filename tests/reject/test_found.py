"""What excludes what, and what several hearings on one question come to."""

from __future__ import annotations

from dataclasses import replace

import pytest

from diagnose.reject.found import (
    Called,
    Checked,
    Found,
    Looked,
    Measured,
    RuledOut,
    Unsure,
    excludes,
    same_thing,
    without_words,
)

SMOOTH = Looked("wall", "smooth")
ROUGH = Looked("wall", "rough")
NOT_SMOOTH = RuledOut("wall", ("smooth",))


@pytest.mark.parametrize(
    ("one", "other", "exclude"),
    [
        (SMOOTH, ROUGH, True),
        (SMOOTH, replace(SMOOTH, said="slick"), False),
        (SMOOTH, NOT_SMOOTH, True),
        (ROUGH, NOT_SMOOTH, False),
        (NOT_SMOOTH, RuledOut("wall", ("rough",)), False),
        (SMOOTH, Looked("seam", "rough"), False),
        (SMOOTH, Unsure("wall"), True),
        (Called("blow"), Called("scab"), True),
        (Called("wall"), SMOOTH, False),
        (Measured("t", readings=(1.0,)), Measured("t", readings=(2.0,)), True),
    ],
)
def test_what_cannot_both_be_true(one: Found, other: Found, exclude: bool) -> None:
    assert excludes(one, other) is exclude
    assert excludes(other, one) is exclude


def test_a_fault_and_an_entry_of_the_same_id_are_two_things() -> None:
    assert not same_thing(Called("wall"), SMOOTH)


def test_words_do_not_make_another_finding() -> None:
    for found in (SMOOTH, NOT_SMOOTH, Called("scab"), Measured("t", (1.0,)), Checked("c", "no")):
        assert without_words(replace(found, said="as somebody said")) == found
    assert without_words(Unsure("wall")) == Unsure("wall")
