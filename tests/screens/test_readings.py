"""Readings: typed for the marked measurement or by name; faults are told and the text is kept."""

from __future__ import annotations

from pathlib import Path

from diagnose.reject import Reject
from diagnose.screens.app import DiagnoseApp
from diagnose.screens.field import Field
from diagnose.screens.lists import PickList
from diagnose.session import Session
from diagnose.shelf import Shelf
from diagnose.shopfile import with_shop
from diagnose.shopread import read_shop
from tests.screens.conftest import shown, type_in


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
    own = DiagnoseApp(Session(book, "", Reject()), shelf)
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
        for text, fault in (("4.6", "no unit"), ("46 %", "cannot be"), ("x 4 %", "no measurement")):
            field = app.screen.query_one("#value", Field)
            field.value = ""
            await type_in(pilot, text, "enter")
            assert fault in shown(app, "#message")
            assert field.value == text
        assert app.bench is not None
        assert app.bench.session.readings() == []


async def test_a_reading_is_struck_out(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f5")
        await type_in(pilot, "4.6 %", "enter", "tab", "x")
        assert app.bench is not None
        assert app.bench.session.readings() == []
