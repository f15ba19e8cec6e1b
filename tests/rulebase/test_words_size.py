"""Lengths. One inch is 25.4 mm exactly (international yard and pound agreement of 1959)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.rulebase.reading import draft
from diagnose.rulebase.words import Phrasebook
from diagnose.rulebase.words_size import answers_for, lengths, number, ranges_of

BOOK = draft().book
PHRASEBOOK = Phrasebook(BOOK)


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("2 mm", 2, 2),
        ("2mm", 2, 2),
        ("2 to 4 mm", 2, 4),
        ("2-4mm", 2, 4),
        ("0.5 cm", 5, 5),
        ("1/2 inch", 12.7, 12.7),
        ('1 1/2"', 38.1, 38.1),
        ("\u00bd in", 12.7, 12.7),
        ("2\u00bd inches", 63.5, 63.5),
        ("half an inch", 12.7, 12.7),
        ("quarter of an inch", 6.35, 6.35),
        ("an eighth of an inch", 3.175, 3.175),
        ("3 millimetres", 3, 3),
        ("under 3 mm", 0, 3),
        ("less than 1/2 inch", 0, 12.7),
        ("over 10 mm", 10, float("inf")),
    ],
)
def test_a_length_is_read(text: str, low: float, high: float) -> None:
    (length,) = lengths(f"hole {text}")
    assert (length.low, length.high) == pytest.approx((low, high))
    assert not length.elsewhere


@pytest.mark.parametrize(
    "text",
    ["14 mm wall", "wall 14 mm", "3 mm under the skin", "20 mm from the gate", "an inch below"],
)
def test_a_length_of_something_else_is_marked(text: str) -> None:
    (length,) = lengths(text)
    assert length.elsewhere


@pytest.mark.parametrize("text", ["moisture 4.6 %", "1310 degC", "3 in a row of 5 minutes", "20"])
def test_other_figures_are_no_sizes(text: str) -> None:
    assert not [length for length in lengths(text) if length.high > 100]
    assert not PHRASEBOOK.understand(text).matches


@pytest.mark.parametrize(
    ("phrase", "answers"),
    [
        ("hole 2 mm across", {"under-3mm"}),
        ("hole 3 mm", {"3-to-10mm"}),
        ("hole 10 mm", {"3-to-10mm"}),
        ("hole 11 mm", {"over-10mm"}),
        ("holes 2 to 4 mm", {"under-3mm", "3-to-10mm"}),
        ("holes under 5 mm", {"under-3mm", "3-to-10mm"}),
        ("holes under 20 mm", {"under-3mm", "3-to-10mm", "over-10mm"}),
        ("hole 1/8 inch", {"under-3mm", "3-to-10mm"}),
        ("hole 3/16 inch", {"3-to-10mm"}),
        ("hole 1/2 inch", {"over-10mm"}),
        ("6 mm", {"3-to-10mm"}),
        ("casting 300 mm wide with a hole", set()),
        ("hole, wall 6 mm", set()),
        ("hole 20 mm from the gate", set()),
        ("not 2 mm, the hole", set()),
    ],
)
def test_the_size_of_a_hole(phrase: str, answers: set[str]) -> None:
    understood = PHRASEBOOK.understand(phrase)
    asked = [match for part in understood.unclear for match in part.candidates]
    found = [match for match in understood.matches if match.id == "cavity-size"]
    assert {match.answer for match in found or asked if match.id == "cavity-size"} == answers
    assert bool(found) == (len(answers) == 1)


def test_a_size_is_no_size_of_what_is_no_hole() -> None:
    understood = PHRASEBOOK.understand("2 mm across", {"fault-form": "extra-metal"})
    assert not understood.matches


@given(st.floats(0.1, 500))
def test_every_length_has_its_place(size: float) -> None:
    ranges = ranges_of(BOOK)
    (length,) = lengths(f"{size:.2f} mm")
    assert len(answers_for(length, ranges)) == 1


@given(st.text(max_size=40))
def test_any_text_is_searched_for_lengths(text: str) -> None:
    for length in lengths(text):
        assert 0 <= length.start < length.end <= len(text)
        assert length.low <= length.high


def test_nothing_is_divided_by_nothing() -> None:
    assert number("1/0") == 0.0
