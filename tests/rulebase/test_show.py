from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.rulebase.find import SINGULAR
from diagnose.rulebase.load import load
from diagnose.rulebase.show import entry_json, entry_lines, linked, plain_data
from diagnose.rulebase.yamlread import read
from tests import shipped


def test_an_entry_with_everything_linked_to_it(good: Path) -> None:
    text = "\n".join(entry_lines(load(good), "conditions", "sand-too-wet"))
    for part in (
        "sand too wet (condition sand-too-wet)",
        "base rate: common (0.05)",
        "- to: more gas than the sand can pass",
        "strength: usually (0.75)",
        "revealed by the check: sand-squeezed",
        "a high reading speaks for it: sand moisture",
        "cured by: dry the sand",
    ):
        assert part in text


def test_an_answer_is_not_taken_for_an_entry_of_the_same_id(good: Path) -> None:
    book = load(good)
    book.looks["hole-wall"].answers["sand"] = book.looks["hole-wall"].answers["jagged"]
    book.conditions["gas-excess"].shows["hole-wall"]["sand"] = "seldom"
    text = "\n".join(entry_lines(book, "conditions", "gas-excess"))
    assert "sand: seldom (0.1)" in text
    assert "area: moulding sand" in text


def test_links_backwards(good: Path) -> None:
    book = load(good)
    assert linked(book, "defects", "pinholes") == {
        "brought about by": ["sand-too-wet", "section-thin"],
        "often taken for it": ["blow"],
    }
    assert linked(book, "looks", "hole-wall") == {"told by": ["gas-excess"]}
    assert linked(book, "cautions", "metal-and-damp") == {
        "stands beside": ["sand-squeezed", "moisture", "dry-the-sand"]
    }
    assert linked(book, "conditions", "section-thin")["needed for a link of"] == ["sand-too-wet"]


def test_plain_data_are_what_the_file_says(good: Path) -> None:
    says = read(good / "sand/conditions.yaml").data["conditions"]
    for name, condition in load(good).conditions.items():
        assert plain_data(condition) == says[name]


EACH = 23
"""One entry in so many is shown: each has to be looked for in the whole book."""


@pytest.mark.parametrize("width", [40, 80])
def test_entries_of_the_shipped_book_fit_the_width(width: int) -> None:
    book = shipped.book()
    for section in SINGULAR:
        for name in list(getattr(book, section))[::EACH]:
            lines = list(entry_lines(book, section, name, width))
            assert lines
            assert max(map(len, lines)) <= width


def test_the_entry_for_machines(good: Path) -> None:
    data = entry_json(load(good), "actions", "dry-the-sand")
    assert data["id"] == "dry-the-sand"
    assert data["kind"] == "action"
    assert data["says"]["how much"].startswith("By half")
    assert data["linked"] == {}
