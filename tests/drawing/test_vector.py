"""The vector drawings are well-formed SVG (W3C, Scalable Vector Graphics 1.1, section 5)."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from diagnose.drawing.marks import MARKS
from diagnose.drawing.place import drawing_in_words
from diagnose.drawing.scenes import SCENES
from diagnose.drawing.vector import svg

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("scene", SCENES)
def test_every_scene_with_every_mark_is_a_picture_with_a_title(scene: str) -> None:
    spot = next(iter(SCENES[scene].spots))
    for mark in MARKS:
        marks = [f"{mark} at {spot}"]
        root = ElementTree.fromstring(svg(scene, marks))
        assert root.tag == f"{SVG}svg"
        title = root.find(f"{SVG}title")
        assert title is not None
        assert title.text == drawing_in_words(scene, marks)


def test_a_picture_fetches_and_runs_nothing() -> None:
    drawn = svg("mould", [f"{mark} at middle" for mark in MARKS])
    for word in ("<script", "href", "<image", "<style", "url(http", "@import"):
        assert word not in drawn


def test_each_mark_is_drawn_once_where_it_is_put() -> None:
    bare, marked = svg("wall"), svg("wall", ["hole at left", "hole at right"])
    assert marked.count("<path") == bare.count("<path") + 2
    assert "translate(86 118)" in marked  # left: column 8, row 7, behind an edge of 6
