"""Readings: typed for the marked measurement or by name; faults are told and the text is kept."""

from __future__ import annotations

from pathlib import Path

from diagnose.reject.reject import Reject
from diagnose.session.library import Library
from diagnose.session.session import Session, open_session
from diagnose.session.shelf import Shelf
from diagnose.session.windows.file import with_shop
from diagnose.session.windows.read import read_shop
from diagnose.terminal.screens.app import DiagnoseApp
from diagnose.terminal.screens.field import Field
from diagnose.terminal.screens.lists import PickList
from tests.terminal.screens.conftest import shown, type_in, whole

BAD = {
    "46": "has no unit",
    "46 %": "cannot be",
    "4 B": "does not fit",
    "wet": "not a number",
    "x 4 %": "no measurement",
}
"""What is typed -> what is wrong with it."""


async def test_a_value_goes_to_the_marked_measurement(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f5", "down", "up")
        await type_in(pilot, "4.6 %", "enter")
        assert app.bench is not None
        reading = app.bench.session.readings()[0]
        assert (reading.id, reading.words) == ("sand-moisture", "above its window")
        about = shown(app, "#about-reading")
        assert "window 3 to 4 %" in about
        assert "Speaks for: moulding sand too wet" in about
        assert "[==========]" in about


async def test_the_shops_own_window_is_called_so(
    session: Session, shelf: Shelf, tmp_path: Path
) -> None:
    path = tmp_path / "shop.yaml"
    path.write_text("windows: {sand-moisture: {low: 3, high: 5, unit: '%'}}", encoding="utf-8")
    book = with_shop(session.book, read_shop(path, session.book))
    own = DiagnoseApp(Session(Library(book), Reject()), shelf)
    async with own.run_test() as pilot:
        await pilot.press("1", "f5")
        await type_in(pilot, "4.6 %", "enter")
        about = shown(own, "#about-reading")
        assert "window 3 to 5 %, the shop's own" in about
        assert "4.6 %, within the shop's own window" in about


async def test_a_name_may_stand_before_the_value(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f5")
        await type_in(pilot, "mould hardness 92", "enter")
        assert app.bench is not None
        assert app.bench.session.readings()[0].id == "mould-hardness"
        marked = app.screen.query_one("#measurements", PickList).marked()
        assert marked is not None
        assert marked.id == "mould-hardness"


async def test_a_bad_reading_is_told_and_kept_in_the_field(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f5")
        for text, fault in BAD.items():
            field = app.screen.query_one("#value", Field)
            field.value = ""
            await type_in(pilot, text, "enter")
            assert fault in shown(app, "#message")
            assert field.value == text
        assert app.bench is not None
        assert app.bench.session.readings() == []


async def test_a_number_alone_is_taken_in_the_unit_of_the_marked_measurement(
    app: DiagnoseApp,
) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f5")
        await type_in(pilot, "4.6", "enter")
        assert app.bench is not None
        (reading,) = app.bench.session.readings()
        assert (reading.id, reading.values, reading.unit) == ("sand-moisture", (4.6,), "%")
        assert shown(app, "#message") == ""
        assert app.screen.query_one("#value", Field).value == ""


async def test_a_reading_is_struck_out(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f5")
        await type_in(pilot, "4.6 %", "enter", "tab", "x")
        assert app.bench is not None
        assert app.bench.session.readings() == []


async def test_what_follows_from_readings_is_shown_as_worked_out(shelf: Shelf) -> None:
    """CE = C + (Si + P)/3, the usual form: 3.4 + (2.1 + 0.3)/3 = 4.2."""
    app = DiagnoseApp(open_session(), shelf)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("1", "f5")
        for text in ("carbon 3.4 %", "silicon 2.1 %", "phosphorus 0.3 %"):
            await type_in(pilot, text, "enter")
        first = [row.id for row in app.screen.query_one("#measurements", PickList).rows[:4]]
        assert {*first} == {"carbon", "silicon", "phosphorus", "carbon-equivalent"}
        assert "4.2 %, within its window, worked out" in whole(app)
        measurements = app.screen.query_one("#measurements", PickList)
        measurements.highlighted = first.index("carbon-equivalent")
        await pilot.pause()
        assert "Worked out: CE = C + (Si + P)/3 = 3.4 +" in shown(app, "#about-reading")
        await pilot.press("tab", "x")
        assert "follows from other readings" in shown(app, "#message")
        assert app.bench is not None
        assert len(app.bench.session.readings()) == 4
