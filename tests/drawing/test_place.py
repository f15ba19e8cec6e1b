"""The description of a drawing: every mark where it is said to be, and said where it is."""

from __future__ import annotations

import pytest

from diagnose.drawing.marks import MARKS
from diagnose.drawing.place import drawing_in_words, placed, split
from diagnose.drawing.scenes import SCENES


@pytest.mark.parametrize("scene", SCENES)
def test_a_mark_stands_at_its_spot_in_every_scene(scene: str) -> None:
    for spot, point in SCENES[scene].spots.items():
        ((mark, at),) = placed(scene, [f"hole at {spot}"])
        assert mark is MARKS["hole"]
        assert at == point


def test_marks_come_in_the_order_in_which_they_are_given() -> None:
    spots = [*SCENES["wall"].spots][:2]
    marks = [f"hole at {spots[1]}", f"pear-hole at {spots[0]}"]
    assert [mark for mark, _ in placed("wall", marks)] == [MARKS["hole"], MARKS["pear-hole"]]
    said = drawing_in_words("wall", marks)
    assert said.index(MARKS["pear-hole"].says) > said.lower().index(MARKS["hole"].says)


def test_a_drawing_without_marks_is_its_scene() -> None:
    assert drawing_in_words("wall", []) == SCENES["wall"].says
    assert placed("wall", []) == []


@pytest.mark.parametrize("wrong", ["hole at nowhere", "wart at under-skin", "hole"])
def test_a_mark_or_spot_that_is_not_there_is_not_drawn(wrong: str) -> None:
    with pytest.raises(KeyError):
        placed("wall", [wrong])


def test_spaces_round_the_parts_do_not_matter() -> None:
    assert split("  hole  at  under-skin ") == ("hole", "under-skin")
    assert split("") == ("", "")
