"""Drawings as sections of a page, and the same in words."""

from __future__ import annotations

from diagnose.notes.pictures import OF_ANSWERS, OF_FAULT, described, drawn
from diagnose.rulebase.panels import panels
from tests import shipped

BOOK = shipped.book()


def test_a_fault_and_the_answers_of_a_look_have_their_own_headings() -> None:
    assert [one.title for one in drawn(BOOK, "drop", 78)] == [OF_FAULT]
    assert [one.title for one in described(BOOK, "drop")] == [OF_FAULT]
    assert [one.title for one in drawn(BOOK, "cavity-wall", 78)] == [OF_ANSWERS]


def test_the_lines_of_a_drawing_are_cut_and_never_wrapped() -> None:
    (section,) = drawn(BOOK, "cavity-wall", 30)
    assert all(line.drawn and len(line.text) <= 30 for line in section.lines)


def test_every_drawing_is_told_in_words_behind_its_title() -> None:
    (section,) = described(BOOK, "cavity-wall")
    shown = panels(BOOK, "cavity-wall")
    assert [line.left for line in section.lines] == [f"{panel.title}: " for panel in shown]
    assert all(line.text for line in section.lines)
    (of_fault,) = described(BOOK, "drop")
    assert {line.left for line in of_fault.lines} == {""}


def test_what_has_no_drawing_has_no_section() -> None:
    assert drawn(BOOK, "sand-too-wet", 78) == []
    assert described(BOOK, "sand-too-wet") == []
