"""A reject worked from a file, in lines and as data: what both must say alike."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.notes.report import MOST_CAUSES, NOTHING, as_data, as_text, warnings
from diagnose.session.rejectfile import FileRead, read_reject
from diagnose.session.session import Session

TOLD = """\
reject: cover
seen:
  - smooth holes
  - sand or slag in the holes
  - like the moon through a wet window
  - no metal beads
measured:
  moulding sand moisture: 6.5 %
  gloss of the paint: 3 tins
"""
Read = Callable[[str], FileRead]


@pytest.fixture
def read(tmp_path: Path, session: Session) -> Read:
    def reading(text: str) -> FileRead:
        path = tmp_path / "reject.yaml"
        path.write_text(text, encoding="utf-8")
        return read_reject(path, session)

    return reading


def test_everything_that_was_told_comes_back(read: Read, session: Session) -> None:
    reading = read(TOLD)
    lines = as_text(reading.session, reading).splitlines()
    heard = [line for line in lines if line.startswith("Heard: ")]
    likely = [line for line in lines if line.startswith("Likely: ")]
    assert any("“smooth holes”" in line for line in heard)
    assert likely
    assert all(line.endswith(" %)") for line in likely)
    assert "Not understood: “like the moon through a wet window”. Left out." in lines
    assert any(line.startswith("Mind: ") and "gloss of the paint" in line for line in lines)


def test_the_ranking_is_that_of_the_session(read: Read) -> None:
    reading = read(TOLD)
    session = reading.session
    text = as_text(session, reading)
    ranked = text.partition("Likely causes\n")[2].partition("Likely faults\n")
    rows = ranked[0].splitlines()
    assert len(rows) == MOST_CAUSES
    for row, cause in zip(rows, session.causes(), strict=False):
        assert row.split(" %")[0].strip() == f"{100 * cause.probability:.1f}"
        assert cause.name in row
    assert session.defects()[0].name in ranked[2].splitlines()[0]
    assert f"“{session.causes()[0].name}” stays first in" in text


def test_lines_and_data_say_the_same(read: Read) -> None:
    reading = read(TOLD)
    session = reading.session
    data = json.loads(json.dumps(as_data(session, reading, 50)))
    assert [one["id"] for one in data["causes"]] == [one.id for one in session.causes()]
    assert [one["id"] for one in data["defects"]] == [one.id for one in session.defects()]
    assert data["warnings"] == warnings(session, reading)
    assert [one["phrase"] for one in data["not_understood"]] == [
        "like the moon through a wet window"
    ]
    text = as_text(session, reading)
    for one in data["understood"]:
        assert f"“{one['words']}” as " in text or "measurement" in one["as"]
    assert {one["mark"] for one in data["understood"]} == {"sure", "likely"}
    assert {note["about"] for note in data["notes"]} >= {"kind", "fault", "cautions", "sources"}
    assert data["stability"]["runs"] == session.stability().runs


@pytest.mark.parametrize("seen", ["like the moon through a wet window", "asdf qwer zxcv"])
def test_where_nothing_was_understood_nothing_is_claimed(read: Read, seen: str) -> None:
    reading = read(f"seen: [{seen}]\n")
    session = reading.session
    data = as_data(session, reading, 50)
    assert (data["causes"], data["defects"], data["accounts"]) == ([], [], [])
    assert warnings(session, reading)[0] == NOTHING
    assert "Likely causes" not in as_text(session, reading)
    assert data["ask_next"]
