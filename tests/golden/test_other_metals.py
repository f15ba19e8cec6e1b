"""The histories of steel, copper alloys, aluminium and malleable iron have the form they should.

They lie in a folder of their own (``other-metals``), so that the scorer does not take them up by
itself yet. An id that the book has not must be told of under ``wanted``.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from diagnose.rulebase.reading import draft
from diagnose.session.session import Session

BOOK = draft().book
FILES = sorted((Path(__file__).parent / "other-metals").glob("*.yaml"))
METALS = {"steel": "steel", "copper": "copper alloy", "aluminium": "aluminium"}
TOLD: list[tuple[str, dict[str, Any]]] = [
    (path.stem, entry) for path in FILES for entry in yaml.safe_load(path.read_text("utf-8"))
]
NAMES = [f"{stem}/{entry['id']}" for stem, entry in TOLD]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_there_are_twelve_or_more_of_each_and_every_third_is_held_out(path: Path) -> None:
    told = [entry for stem, entry in TOLD if stem == path.stem]
    assert len(told) >= 12
    assert [bool(entry.get("held out")) for entry in told] == [
        number % 3 == 0 for number in range(1, len(told) + 1)
    ]


@pytest.mark.parametrize(("stem", "entry"), TOLD, ids=NAMES)
def test_what_it_names_is_in_the_book_or_wanted(stem: str, entry: dict[str, Any]) -> None:
    wanted = {*entry.get("wanted", {})}
    assert {*entry["cause"]} <= {*BOOK.conditions} | wanted
    assert {*entry["defect"]} <= {*BOOK.defects} | wanted
    assert entry["area"] in BOOK.areas
    assert entry["reject"]["metal"] == METALS.get(stem, "malleable iron")
    assert entry["reject"].get("process") in {None, *BOOK.processes}
    assert bool(entry.get("published")) == bool(entry.get("url"))
    assert entry["tells"]


@pytest.mark.parametrize(("stem", "entry"), TOLD, ids=NAMES)
def test_its_answers_are_answers_of_the_book(stem: str, entry: dict[str, Any]) -> None:
    for name, answer in entry["answers"].items():
        asked = BOOK.looks[name] if name in BOOK.looks else BOOK.checks[name]
        assert answer in asked.answers, f"{stem}: {name}"


def test_no_id_is_given_twice() -> None:
    assert len({entry["id"] for _, entry in TOLD}) == len(TOLD)


def test_its_readings_are_understood(first: Session) -> None:
    names = {measurement.name for measurement in BOOK.measurements.values()}
    for _, entry in TOLD:
        for name, reading in entry["reject"].get("measured", {}).items():
            assert name in names
            first.another().measure(name, str(reading))


@pytest.mark.parametrize("name", ["more-tables", "experiments"])
def test_tables_and_experiments_name_what_is_in_the_book(name: str) -> None:
    text = (Path(__file__).parent / "pareto" / f"{name}.yaml").read_text("utf-8")
    for entry in yaml.safe_load(text):
        lines = entry.get("rejects", [entry])
        assert {fault for line in lines for fault in line["defects"]} <= {*BOOK.defects}
        causes = {
            factor["condition"] for factor in entry.get("factors", ()) if "condition" in factor
        }
        assert causes <= {*BOOK.conditions}
        assert entry["tells"]
        assert entry["url"]
