"""A few screens as pictures; renew with --snapshot-update and look at each before keeping it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from diagnose.session.session import Session
from diagnose.session.shelf import Shelf
from diagnose.terminal.screens.app import DiagnoseApp

Compare = Callable[..., bool]


@pytest.fixture
def begun(session: Session, shelf: Shelf) -> DiagnoseApp:
    """A reject of which three things are known."""
    session.answer("cavity-wall", "smooth", "smooth holes")
    session.answer("beside-core", "away-from-core")
    session.measure("moisture", "4.6 %")
    return DiagnoseApp(session, shelf)


def test_first_screen(app: DiagnoseApp, snap_compare: Compare) -> None:
    assert snap_compare(app, terminal_size=(80, 24))


def test_a_question_with_the_causes_beside_it(begun: DiagnoseApp, snap_compare: Compare) -> None:
    assert snap_compare(begun, terminal_size=(80, 24))


def test_a_question_in_a_narrow_window(begun: DiagnoseApp, snap_compare: Compare) -> None:
    assert snap_compare(begun, terminal_size=(60, 20))


def test_a_question_without_colour(session: Session, shelf: Shelf, snap_compare: Compare) -> None:
    app = DiagnoseApp(session, shelf, colour=False)
    assert snap_compare(app, press=["1", "f4", "tab"], terminal_size=(80, 24))


def test_phrases_understood(begun: DiagnoseApp, snap_compare: Compare) -> None:
    said = ["d", *"gas", "space", *"hole", "enter", "tab"]
    assert snap_compare(begun, press=said, terminal_size=(80, 24))


def test_a_reading_above_its_window(begun: DiagnoseApp, snap_compare: Compare) -> None:
    assert snap_compare(begun, press=["r"], terminal_size=(80, 24))


def test_the_verdict(begun: DiagnoseApp, snap_compare: Compare) -> None:
    assert snap_compare(begun, press=["v"], terminal_size=(80, 24))


def test_a_window_too_small(begun: DiagnoseApp, snap_compare: Compare) -> None:
    assert snap_compare(begun, terminal_size=(40, 10))
