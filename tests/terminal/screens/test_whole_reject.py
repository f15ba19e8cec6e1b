"""A reject from the first phrase to the note, by keys alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.reject.reject import Reject
from diagnose.session.rejectfile import read_reject
from diagnose.session.session import Session
from diagnose.session.shelf import Shelf
from diagnose.terminal.screens.about import About
from diagnose.terminal.screens.app import DiagnoseApp
from diagnose.terminal.screens.ask import Ask
from diagnose.terminal.screens.note import Note
from diagnose.terminal.screens.see import See
from diagnose.terminal.screens.verdict import Verdict
from tests.terminal.screens.conftest import shown, type_in


def heard_of(reject: Reject) -> dict[tuple[str, str, str, str, str], float]:
    """Return what was heard, with the probability to the figures that a file keeps."""
    return {
        (h.kind, h.id, h.answer, h.words, h.phrase): round(h.probability, 2) for h in reject.heard
    }


async def test_from_phrases_to_the_note(
    app: DiagnoseApp,
    session: Session,
    shelf: Shelf,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("1")
        assert isinstance(app.screen, About)
        await pilot.press("end", *["backspace"] * 4)
        await type_in(pilot, "0999", "enter", "right", "left", "enter", "enter")
        await type_in(pilot, "8 mm", "enter")
        assert isinstance(app.screen, See)
        await type_in(pilot, "smooth holes by the core", "enter", "enter")
        assert isinstance(app.screen, Ask)
        for _ in range(10):
            if app.screen.question is None:
                break
            if app.screen.question.answers:
                await pilot.press("1")
            else:
                await pilot.press("0")
        assert app.screen.question is None
        assert "Nothing more is worth asking" in shown(app, "#question")
        await pilot.press("1")
        assert isinstance(app.screen, Verdict)
        await pilot.press("enter")
        assert isinstance(app.screen, Note)
        assert "CORRECTIVE-ACTION NOTE: cover-0999" in shown(app, "#text")
        await pilot.press("f")
        assert str(tmp_path / "cover-0999-note.txt") in shown(app, "#message")
        await pilot.press("q")
    assert app.return_code == 0
    assert {path.suffix for path in tmp_path.glob("cover-0999-note.*")} == {".txt", ".md", ".html"}
    kept = session.another()
    read_reject(shelf.path_for("cover-0999"), kept)
    assert app.bench is not None
    assert set(kept.reject.found) == set(app.bench.session.reject.found)
    assert app.bench.session.reject.heard
    assert heard_of(kept.reject) == heard_of(app.bench.session.reject)
    assert kept.reject.section == 8.0


async def test_a_reject_is_taken_up_again(app: DiagnoseApp, session: Session, shelf: Shelf) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3")
        await type_in(pilot, "smooth holes", "enter", "f10")
    later = DiagnoseApp(session.another(), shelf)
    async with later.run_test() as pilot:
        await pilot.press("2")
        assert isinstance(later.screen, See)
        assert "smooth, as if blown" in later.screen.query_one("#phrases").rows[0].text  # type: ignore[attr-defined]
        assert later.bench is not None
        found = later.bench.session.reject.finding("cavity-wall")
        assert found is not None
        assert (found.answer, found.said) == ("smooth", "smooth holes")
        assert app.bench is not None
        assert heard_of(later.bench.session.reject) == heard_of(app.bench.session.reject)


async def test_a_reject_begun_and_left_can_be_taken_up(
    app: DiagnoseApp, session: Session, shelf: Shelf
) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "down", "right", "f12")
    later = DiagnoseApp(session.another(), shelf)
    async with later.run_test() as pilot:
        await pilot.press("2", "f2")
        assert isinstance(later.screen, About)
        assert later.screen.session.reject.metal == "ductile iron"


async def test_a_spoilt_file_is_told_and_the_rest_goes_on(app: DiagnoseApp, shelf: Shelf) -> None:
    shelf.folder.mkdir()
    shelf.path_for("spoilt").write_text("seen: [smooth holes\n", encoding="utf-8")
    async with app.run_test() as pilot:
        await pilot.press("2")
        assert "spoilt.yaml cannot be read" in shown(app, "#message")
        await pilot.press("1")
        assert isinstance(app.screen, About)
