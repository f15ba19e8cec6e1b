"""A session opened in the background: whoever is quicker, and what keeps it from being opened."""

from __future__ import annotations

from threading import Event

import pytest

from diagnose.basics.errors import Fault
from diagnose.session.session import Session
from diagnose.terminal.screens.opening import Opening


def test_it_is_opened_in_the_background_and_told(session: Session) -> None:
    done = Event()
    opening = Opening(lambda: session)
    opening.begin(done.set)
    assert done.wait(30)
    assert opening.session() is session
    assert opening.wrong is None


def test_a_person_who_is_quicker_than_the_screen_waits_for_it(session: Session) -> None:
    """A key pressed before the first screen was drawn: this ended in a traceback before."""
    opening = Opening(lambda: session)
    assert opening.session() is session
    opening.begin(lambda: None)
    assert opening.session() is session


def test_what_keeps_it_from_being_opened_is_kept() -> None:
    def fail() -> Session:
        raise Fault("no such book")

    opening = Opening(fail)
    opening.wait()
    assert isinstance(opening.wrong, Fault)
    with pytest.raises(Fault, match="no such book"):
        opening.session()
