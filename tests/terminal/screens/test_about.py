"""What it is, and below it what goes on the note: reached by Down, never in the way."""

from __future__ import annotations

import pytest

from diagnose.reject.ticket import ENTRIES, Ticket
from diagnose.terminal.screens.about import About
from diagnose.terminal.screens.app import DiagnoseApp
from diagnose.terminal.screens.see import See
from tests.terminal.screens.conftest import shown, type_in, whole

TO_TICKET = ["down"] * 4
"""From the name to the first line of the ticket."""


async def test_enter_behind_the_section_goes_on_without_a_ticket(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "enter", "enter", "enter")
        assert isinstance(app.screen, About)
        assert "pattern, heat, how many" in " ".join(shown(app, "#hint").split())
        await pilot.press("enter")
        assert isinstance(app.screen, See)
        assert app.bench is not None
        assert not app.bench.session.reject.ticket.known


async def test_the_ticket_is_filled_in_and_kept(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", *TO_TICKET)
        await type_in(pilot, "P-17", "down")
        await type_in(pilot, "14.3.2026", "down")
        await type_in(pilot, "99", "down")
        await type_in(pilot, "6 of 40", "enter", "enter", "enter")
        await type_in(pilot, "3", "enter")
        assert isinstance(app.screen, See)
        assert app.bench is not None
        bench = app.bench
        wanted = Ticket(pattern="P-17", date="2026-03-14", heat="99", bad=6, of=40, box="3")
        assert bench.session.reject.ticket == wanted
        kept = bench.shelf.path_for(bench.session.reject.name).read_text(encoding="utf-8")
        assert "bad: 6 of 40" in kept
        bench.session.undo()
        assert bench.session.reject.ticket.box == ""


async def test_a_count_that_cannot_be_keeps_the_line_and_says_why(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", *TO_TICKET, "down", "down", "down")
        await type_in(pilot, "40 of 6", "enter")
        assert "6 of 40" in shown(app, "#message")
        assert app.screen.focused is not None
        assert app.screen.focused.id == "bad"


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_every_line_can_be_reached_and_seen(app: DiagnoseApp, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await pilot.press("1", *TO_TICKET)
        for label in ENTRIES.values():
            await pilot.pause()
            assert f"> {label}" in whole(app)
            await pilot.press("down")
