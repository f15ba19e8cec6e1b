"""Lengths in phrases: arithmetic, and the answers that stand for a range."""

from __future__ import annotations

from math import inf

import pytest

from diagnose.rulebase.book import Book
from diagnose.words.reader import Reader
from diagnose.words.size import Length, answers_for, lengths, number, ranges_of


@pytest.mark.parametrize(
    ("phrase", "low", "high"),
    [
        ("hole 4 mm", 4.0, 4.0),
        ("hole 4mm across", 4.0, 4.0),
        ("1.5 cm dia", 15.0, 15.0),
        ("2-3 mm", 2.0, 3.0),
        (".5 mm holes", 0.5, 0.5),
        ("2 to 3 mm", 2.0, 3.0),
        ('1/2" wide', 12.7, 12.7),
        ("half an inch", 12.7, 12.7),
        ("an inch", 25.4, 25.4),
        ("a sixteenth of an inch", 1.5875, 1.5875),
        ("over 10 mm", 10.0, inf),
        ("less than 2 mm", 0.0, 2.0),
        ("1 1/2 in", 38.1, 38.1),
    ],
)
def test_lengths_as_people_say_them(phrase: str, low: float, high: float) -> None:
    (found,) = lengths(phrase)
    assert (found.low, found.high) == pytest.approx((low, high))
    assert not found.elsewhere


@pytest.mark.parametrize("phrase", ["3 mm below the skin", "wall 14 mm", "20 mm thick plate"])
def test_depths_and_walls_are_not_sizes(phrase: str) -> None:
    (found,) = lengths(phrase)
    assert found.elsewhere


def test_a_division_by_nothing_is_nothing() -> None:
    assert number("1/0") == 0.0


def test_the_ranges_of_the_book_are_written_in_it(book: Book) -> None:
    ranges = ranges_of(book)["cavity-size"]
    assert ranges == {"under-3mm": (0.0, 3.0), "3-to-10mm": (3.0, 10.0), "over-10mm": (10.0, inf)}
    assert answers_for(Length(0, 4, 12.0, 12.0), ranges) == ["over-10mm"]
    assert answers_for(Length(0, 4, 2.0, 4.0), ranges) == ["under-3mm", "3-to-10mm"]


@pytest.mark.parametrize(
    ("phrase", "answer"),
    [
        ("holes 2 mm across", "under-3mm"),
        ("round holes, 5 mm", "3-to-10mm"),
        ('hole 3/4" across', "over-10mm"),
    ],
)
def test_a_length_beside_a_hole_is_its_size(reader: Reader, phrase: str, answer: str) -> None:
    (heard,) = reader.hear([phrase])
    assert ("cavity-size", answer) in {(one.id, one.answer) for one in heard.taken}


def test_the_thickness_of_a_wall_is_no_size_of_a_hole(reader: Reader) -> None:
    (heard,) = reader.hear(["holes in the 12 mm wall"])
    assert "cavity-size" not in {one.id for one in heard.taken}


@pytest.mark.parametrize(
    ("text", "value"),
    [("\u0663\u0663", 33.0), ("\u06632", 32.0), ("2\u00bd", 2.5), ("\u00bd", 0.5)],
)
def test_figures_of_other_scripts_are_figures(text: str, value: float) -> None:
    """Unicode: U+0663 is the Arabic-Indic figure three; the fuzz found that two of them failed."""
    assert number(text) == value
