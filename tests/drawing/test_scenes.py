"""Scenes and marks: whatever can be named can be drawn. Common practice, no source."""

from __future__ import annotations

from itertools import product

import pytest

from diagnose.drawing.letters import lines
from diagnose.drawing.marks import MARKS
from diagnose.drawing.place import drawing_in_words, placed, split
from diagnose.drawing.scenes import COLUMNS, ROWS, SCENES


@pytest.mark.parametrize("scene", SCENES)
def test_every_spot_lies_in_the_drawing(scene: str) -> None:
    for column, row in SCENES[scene].spots.values():
        assert 0 <= column < COLUMNS
        assert 0 <= row < ROWS


@pytest.mark.parametrize("scene", SCENES)
def test_a_scene_is_plain_letters_of_the_size_it_says(scene: str) -> None:
    drawn = lines(scene)
    assert len(drawn) == ROWS
    assert all(len(line) <= COLUMNS and line.isascii() for line in drawn)


@pytest.mark.parametrize("scene", SCENES)
def test_every_mark_is_seen_at_every_spot(scene: str) -> None:
    bare = lines(scene)
    for spot, mark in product(SCENES[scene].spots, MARKS):
        drawn = lines(scene, [f"{mark} at {spot}"])
        assert all(len(line) <= COLUMNS and line.isascii() for line in drawn)
        assert (drawn == bare) == (mark == "nothing"), (mark, spot)


def test_no_two_marks_look_the_same_in_letters_or_in_strokes() -> None:
    letters = [mark.letters for mark in MARKS.values()]
    assert len(set(letters)) == len(letters)
    strokes = [(mark.strokes, mark.ink) for mark in MARKS.values()]
    assert len(set(strokes)) == len(strokes)


def test_the_mould_is_a_mould() -> None:
    """Cope above drag, the joint between them, the core across it, the feeder open at the top."""
    spots = SCENES["mould"].spots
    assert spots["cope-face"][1] < spots["joint-left"][1] < spots["drag-face"][1]
    assert spots["over-core"][1] < spots["in-core"][1] < spots["under-core"][1]
    assert spots["sprue"][0] < spots["at-gate"][0] < spots["far-end"][0]
    drawn = lines("mould")
    assert "cope" in drawn[1]
    assert "drag" in drawn[9]
    assert drawn[1][27:29].strip() == drawn[2][27:29].strip() == ""  # iron, from feeder to casting


def test_a_mark_stands_where_it_is_put() -> None:
    ((mark, spot),) = placed("wall", ["hole at under-skin"])
    row = lines("wall", ["hole at under-skin"])[round(spot[1])]
    assert row.index(mark.letters[0]) == pytest.approx(spot[0], abs=1)


def test_a_drawing_is_told_to_those_who_cannot_see_it() -> None:
    said = drawing_in_words("mould", ["hole at over-core", "slag at cope-pocket"])
    assert said.endswith("A round hole (over core); slag (cope pocket).")
    assert drawing_in_words("row", []) == SCENES["row"].says


def test_a_mark_without_a_spot_is_told_from_one_with() -> None:
    assert split("hole at deep") == ("hole", "deep")
    assert split("hole deep") == ("hole deep", "")
