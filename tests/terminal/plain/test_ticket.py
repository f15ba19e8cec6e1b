"""Line by line: what goes on the note is asked for by its own word, and not in between."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.session.session import Session, open_session
from diagnose.session.shelf import Shelf
from tests.terminal.plain.test_conversation import NAMED, SMALL_BOOK, kept, talk


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "rejects")


@pytest.fixture
def session() -> Session:
    return open_session(folder=SMALL_BOOK)


def test_the_ticket_is_asked_for_by_its_word_only(session: Session, shelf: Shelf) -> None:
    told = ["P-17", "3/4/2026", "2026-03-14", "99", "6 of 40", "", "B. Example", ""]
    said = talk(session, shelf, *NAMED, "ticket", *told, "ticket core maker C. Example",
                "ticket heat", "ticket bad 40 of 6", "ticket colour red", "quit")  # fmt: skip
    ticket = kept(session, shelf).reject.ticket
    assert (ticket.pattern, ticket.date, ticket.heat) == ("P-17", "2026-03-14", "99")
    assert (ticket.bad, ticket.of) == (6, 40)
    assert (ticket.moulder, ticket.core_maker, ticket.box) == ("", "C. Example", "")
    for line in ("could be two days", "The number of the heat", "6 of 40", "Say which: pattern,"):
        assert line in said
    assert "Pattern [" not in talk(session.another(), Shelf(shelf.folder / "b"), *NAMED, "quit")


def test_an_entry_of_the_ticket_is_taken_back_with_the_word_back(
    session: Session, shelf: Shelf
) -> None:
    talk(session, shelf, *NAMED, "ticket heat 99", "ticket heat 98", "back", "quit")
    assert kept(session, shelf).reject.ticket.heat == "99"
