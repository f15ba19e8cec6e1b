"""The drawings of entries, side by side and in words."""

from __future__ import annotations

from diagnose.rulebase.panels import Panel, in_letters, panels
from tests import shipped

BOOK = shipped.book()
HOLE = Panel("1  smooth", "wall", ("hole at under-skin",))


def test_every_defect_is_drawn_in_its_place_and_close_by() -> None:
    for name in BOOK.defects:
        assert len(panels(BOOK, name)) >= 2, name


def test_every_look_has_a_drawing_for_each_answer() -> None:
    for name, look in BOOK.looks.items():
        shown = panels(BOOK, name)
        assert [panel.title.partition("  ")[2] for panel in shown] == [
            answer.say for answer in look.answers.values()
        ], name


def test_the_answers_of_a_look_are_not_all_drawn_alike() -> None:
    for name in BOOK.looks:
        assert len({panel.marks for panel in panels(BOOK, name)}) > 1, name


def test_nothing_else_has_a_drawing() -> None:
    assert panels(BOOK, "sand-too-wet") == []


def test_two_stand_side_by_side_where_there_is_room() -> None:
    wide, narrow = in_letters([HOLE, HOLE], 80), in_letters([HOLE, HOLE], 60)
    assert wide[0].count("1  smooth") == 2
    assert len(narrow) == 2 * len(wide) + 1
    assert all(len(line) <= 80 for line in wide)


def test_a_narrow_window_cuts_and_does_not_wrap() -> None:
    assert max(map(len, in_letters([HOLE], 20))) == 20
    assert len(in_letters([HOLE], 20)) == len(in_letters([HOLE], 80))


def test_a_drawing_can_be_told() -> None:
    assert "A round hole (under skin)" in HOLE.said
