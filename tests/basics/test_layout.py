"""Text in sections at any width, against the promises of ``textwrap`` and by hand."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from diagnose.basics.layout import Line, Section, plain_text

WORDS = st.lists(st.text("abcdefgh", min_size=1, max_size=7), min_size=1, max_size=30)


@given(WORDS, st.integers(0, 6), st.integers(20, 80))
def test_no_line_is_too_long_and_no_word_is_lost(words: list[str], left: int, width: int) -> None:
    rows = Line(" ".join(words), "x" * left).wrapped(width)
    assert all(len(row) <= width for row in rows)
    assert " ".join(rows).removeprefix("x" * left).split() == words
    assert all(row[:left] == " " * left for row in rows[1:])


def test_what_stands_at_the_left_never_eats_the_text() -> None:
    """However narrow the screen, eight characters stay for the text."""
    rows = Line("one two", "left side  ").wrapped(4)
    assert rows == ["left side  one two"]


def test_a_line_without_text_keeps_what_stands_at_the_left() -> None:
    assert Line("", " 1  ").wrapped(40) == [" 1"]
    assert Line("").wrapped(40) == [""]


def test_a_drawn_line_is_cut_off_and_never_wrapped() -> None:
    assert Line("+--  --+", drawn=True).wrapped(5) == ["+--  "]


def test_sections_are_parted_by_a_blank_line() -> None:
    sections = [Section("One", (Line("a"), Line("b", "- "))), Section("Two", ())]
    assert plain_text(sections, 20) == "One\na\n- b\n\nTwo"
    assert plain_text([], 20) == ""
