"""A table taken up in the line-by-line session: asked, shown, confirmed, kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.session.session import Session
from diagnose.session.shelf import Shelf
from tests.terminal.plain.test_conversation import NAMED, kept, session, shelf, talk

__all__ = ["session", "shelf"]

TABLE = "Date;Moisture (%)\n14.03.2026;4,6\n15.03.2026;4,2\n"


@pytest.fixture
def log(tmp_path: Path) -> Path:
    path = tmp_path / "Sand Log.csv"
    path.write_text(TABLE, encoding="utf-8")
    return path


def test_rows_are_asked_and_readings_taken_down(session: Session, shelf: Shelf, log: Path) -> None:
    said = talk(session, shelf, *NAMED, f"sheet {log}", "2", "yes", "")
    assert "There are 2 rows. Which are meant?" in said
    assert " 2  14 March 2026" in said
    assert "B   Moisture (%): moulding sand moisture, in %" in said
    assert "moulding sand moisture: 4.6 % (B2)" in said
    assert "Taken down: moulding sand moisture, 4.6 %." in said
    assert "Likely: " in said
    assert kept(session, shelf).readings()[0].values == (4.6,)


def test_nothing_is_taken_down_unconfirmed(session: Session, shelf: Shelf, log: Path) -> None:
    for reply in ("no", ""):
        said = talk(session, shelf, *NAMED, f"sheet {log}", "1", reply)
        assert "Nothing was taken down." in said
        assert kept(session, shelf).readings() == []


def test_a_doubt_may_be_left_open(session: Session, shelf: Shelf, log: Path) -> None:
    said = talk(session, shelf, *NAMED, f"sheet {log}", "7", "0")
    assert "Type a number from 0 to 2." in said
    assert "Nothing was taken down." in said


def test_a_reading_that_was_given_stays(session: Session, shelf: Shelf, log: Path) -> None:
    said = talk(session, shelf, *NAMED, "reading moisture 5.9 %", f"sheet {log}", "2", "yes")
    assert "Left as it is: moulding sand moisture, 5.9 %; the sheet says 4.6 %." in (
        " ".join(said.split())
    )
    assert kept(session, shelf).readings()[0].values == (5.9,)


@pytest.mark.parametrize(
    ("file", "says"),
    [("none.csv", "There is no such file."), ("~nobody-here/log.csv", "home")],
)
def test_a_file_that_is_not_there(session: Session, shelf: Shelf, file: str, says: str) -> None:
    assert says in talk(session, shelf, *NAMED, f"sheet {file}")


def test_a_phrase_may_begin_with_the_word(session: Session, shelf: Shelf) -> None:
    talk(session, shelf, *NAMED, "sheet of slag", "")
    assert kept(session, shelf).reject.not_understood == ("sheet of slag",)


def test_the_input_may_end_before_it_is_confirmed(
    session: Session, shelf: Shelf, log: Path
) -> None:
    said = talk(session, shelf, *NAMED, f"sheet {log}", "2")
    assert "CORRECTIVE-ACTION NOTE" in said
    assert kept(session, shelf).readings() == []
