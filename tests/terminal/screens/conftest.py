"""The screens on a small rule base of their own, with a shelf that nobody else uses."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from diagnose.session.session import Session, open_session
from diagnose.session.shelf import Shelf
from diagnose.terminal.screens.app import DiagnoseApp

SMALL_BOOK = Path(__file__).parent / "small-book"
NAMED_KEYS = {" ": "space", ".": "full_stop", "%": "percent_sign", ",": "comma", "-": "minus"}


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shelf:
    """An empty shelf on which a new reject is called cover-0412."""
    monkeypatch.setattr(Shelf, "free_name", lambda self: "cover-0412")
    return Shelf(tmp_path / "rejects")


@pytest.fixture
def session() -> Session:
    return open_session(folder=SMALL_BOOK)


@pytest.fixture
def app(session: Session, shelf: Shelf) -> DiagnoseApp:
    return DiagnoseApp(session, shelf)


async def type_in(pilot: Pilot[None], text: str, *then: str) -> None:
    """Press the keys of a text one by one, then others."""
    await pilot.press(*(NAMED_KEYS.get(letter, letter) for letter in text), *then)


def shown(app: DiagnoseApp, selector: str) -> str:
    """Return the text of a part of the screen."""
    return str(app.screen.query_one(selector, Static).render())


def whole(app: DiagnoseApp) -> str:
    """Return all that stands on the screen, line by line."""
    return "\n".join(
        "".join(part.text for part in strip) for strip in app.screen._compositor.render_strips()
    )
