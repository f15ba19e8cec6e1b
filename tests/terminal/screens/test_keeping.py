"""Nothing is lost: not by a full disk, not by Ctrl+C, not by a name that is taken."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.basics.errors import Fault
from diagnose.session.onfile import OnFile
from diagnose.session.session import Session
from diagnose.session.shelf import Shelf
from diagnose.terminal.screens.about import About
from diagnose.terminal.screens.app import DiagnoseApp, told_where
from diagnose.terminal.screens.pick import Pick
from tests.terminal.screens.conftest import shown, type_in


class FullDisk:
    """Stands in for saving: fails until there is room."""

    def __init__(self) -> None:
        self.room = False
        self.kept: list[Session] = []

    def __call__(self, session: Session) -> str:
        if not self.room:
            raise Fault("No space left on device.")
        self.kept.append(session)
        return ""


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> FullDisk:
    disk = FullDisk()
    monkeypatch.setattr(OnFile, "keep", lambda file, session: disk(session))
    return disk


async def test_a_full_disk_is_told_and_tried_again(app: DiagnoseApp, disk: FullDisk) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f4", "1")
        assert "No space left" in shown(app, "#message")
        assert "tried again at every change" in shown(app, "#message")
        assert app.bench is not None
        assert len(app.bench.session.reject.found) == 1
        disk.room = True
        await pilot.press("1")
        assert shown(app, "#message") == ""
        assert len(disk.kept) == 1


async def test_leaving_with_a_full_disk_asks_first(app: DiagnoseApp, disk: FullDisk) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f4", "1", "q")
        assert isinstance(app.screen, Pick)
        await pilot.press("1")
        assert shown(app, "#message") != ""
        await pilot.press("q", "2")
        assert not app.is_running


async def test_ctrl_c_neither_leaves_nor_loses(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3")
        await type_in(pilot, "smooth")
        await pilot.press("ctrl+c")
        assert app.is_running
        assert "Nothing is lost" in shown(app, "#message")
        assert app.screen.query_one("#phrase").value == "smooth"  # type: ignore[attr-defined]


async def test_a_name_that_is_taken_is_refused(app: DiagnoseApp, shelf: Shelf) -> None:
    shelf.folder.mkdir()
    shelf.path_for("lid").write_text("reject: lid\n", encoding="utf-8")
    async with app.run_test() as pilot:
        await pilot.press("1", "end", *["backspace"] * 10)
        await type_in(pilot, "lid", "f4")
        assert isinstance(app.screen, About)
        assert "a reject called lid already" in shown(app, "#message")
        await type_in(pilot, "2", "f4")
        assert shelf.path_for("lid").read_text(encoding="utf-8") == "reject: lid\n"
        assert shelf.path_for("lid2").exists()


async def test_a_new_name_takes_the_file_along(app: DiagnoseApp, shelf: Shelf) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f4", "1", "f2", "end")
        await type_in(pilot, "b", "f4")
        assert [kept.path.name for kept in shelf.kept()] == ["cover-0412b.yaml"]


async def test_copying_always_leaves_a_file_too(
    app: DiagnoseApp, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    async with app.run_test() as pilot:
        await pilot.press("1", "f4", "1", "n", "c")
        written = tmp_path / "cover-0412-note.txt"
        assert app.clipboard == written.read_text(encoding="utf-8")
        assert str(written) in shown(app, "#message")


async def test_a_folder_that_cannot_be_written_to_is_told(
    app: DiagnoseApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Path, "cwd", lambda: Path("/proc/nowhere"))
    async with app.run_test() as pilot:
        await pilot.press("1", "f4", "1", "n", "f")
        assert "cannot be kept in /proc/nowhere" in shown(app, "#message")


async def test_a_mistake_of_the_program_tells_where_the_reject_is(
    app: DiagnoseApp, shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []
    monkeypatch.setattr(DiagnoseApp, "panic", lambda self, text: told.append(text.plain))

    def broken(session: Session) -> None:
        raise ZeroDivisionError

    async def go_to_the_verdict() -> None:
        async with app.run_test() as pilot:
            await pilot.press("1", "f4", "1")
            monkeypatch.setattr(Session, "stability", broken)
            await pilot.press("v")

    with pytest.raises(ZeroDivisionError):
        await go_to_the_verdict()
    assert str(shelf.path_for("cover-0412")) in told[0]
    assert "locals" not in told[0]


async def test_a_phrase_that_is_typed_and_not_said_is_asked_about(
    app: DiagnoseApp, shelf: Shelf
) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3")
        await type_in(pilot, "smooth holes", "f12")
        assert isinstance(app.screen, Pick)
        await pilot.press("1")
        assert app.is_running
        assert app.screen.query_one("#phrase").value == "smooth holes"  # type: ignore[attr-defined]
        await pilot.press("f12", "2")
        assert not app.is_running
    assert "smooth holes" in shelf.path_for("cover-0412").read_text(encoding="utf-8")


async def test_a_reading_that_is_typed_and_not_taken_is_asked_about(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f5")
        await type_in(pilot, "4.6 %", "f2", "escape")
        assert isinstance(app.screen, Pick)
        await pilot.press("1")
        assert app.screen.query_one("#value").value == "4.6 %"  # type: ignore[attr-defined]
        await pilot.press("f12", "2")
        assert not app.is_running


async def test_another_reject_is_not_begun_over_one_that_is_not_kept(
    app: DiagnoseApp, disk: FullDisk
) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f4", "1", "f2", "escape")
        assert isinstance(app.screen, Pick)
        assert app.bench is not None
        assert len(app.bench.session.reject.found) == 1


async def test_it_is_said_to_be_kept_only_where_it_is(app: DiagnoseApp, shelf: Shelf) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f4", "1")
        assert app.bench is not None
        path = shelf.path_for("cover-0412")
        assert told_where(app.bench) == (f"Kept: {path}\n", True)
        path.unlink()
        path.mkdir()
        app.bench.session.undo()
        told, kept = told_where(app.bench)
        assert not kept
        assert "Kept:" not in told
        assert "reject: cover-0412" in told
