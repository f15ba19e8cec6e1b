"""A scrap batch on the screen: walked by keys, actions kept, a casting opened; pictures."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from textual.widgets import Static

from diagnose.batch.actions import read_actions
from diagnose.batch.result import Batch
from diagnose.batch.walk import Opened, Walk
from diagnose.terminal.screens.agree import Agree
from diagnose.terminal.screens.batch import TOP, BatchApp
from diagnose.terminal.screens.overpage import OverPage
from diagnose.terminal.screens.small import Small
from tests.batch.example import BARE, BATCH, CORE, EMPTY, MISRUN
from tests.bench.batch_keys import walk
from tests.terminal.screens.conftest import type_in

Compare = Callable[..., bool]
TODAY = date(2026, 4, 1)
SIZES = [(80, 24), (60, 20)]


def app_of(batch: Batch, folder: Path, *, colour: bool = True) -> BatchApp:
    walk = Walk(batch, folder / "quarter-actions.yaml", folder / "pack", TODAY)
    return BatchApp(walk, colour=colour)


@pytest.fixture
def app(tmp_path: Path) -> BatchApp:
    return app_of(BATCH, tmp_path)


def whole(app: BatchApp) -> str:
    """Return all that stands on the screen, line by line."""
    return "\n".join(
        "".join(part.text for part in strip) for strip in app.screen._compositor.render_strips()
    )


def message(app: BatchApp) -> str:
    return str(app.screen.query_one("#message", Static).render())


async def test_enter_goes_down_and_esc_up_again(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        for level, shown in (
            ("[Faults]", "199 castings, 46 % of the scrap"),
            ("[Where]", "Share of castings scrapped"),
            ("[Causes]", "At work with a probability of"),
            ("[Casting]", "Supposed cause: core not baked"),
        ):
            await pilot.pause()
            assert level in whole(app)
            assert shown in whole(app)
            if level != "[Casting]":
                await pilot.press("enter")
        for level in ("[Causes]", "[Where]", "[Faults]"):
            await pilot.press("escape")
            assert level in whole(app)
        await pilot.press("escape")
        assert message(app) == TOP


async def test_numbers_go_down_into_a_line(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("3", "2", "1")
        assert "misrun > ladle order last third > ladle waited too long" in whole(app)
        await pilot.press("9")
        assert "[Casting]" in whole(app)


async def test_the_bar_one_stands_on_is_explained(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down")
        await pilot.pause()
        assert "│ 104.5 castings, 24 % of the" in whole(app)


async def test_the_mark_comes_back_where_it_was(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        for key in ("down", "down", "enter", "escape"):
            await pilot.press(key)
            await pilot.pause()  # on a busy machine the next key came before the mark had moved
        assert app.walk.marks["faults"] == 2
        assert app.screen.query_one("#lines").highlighted == 2  # type: ignore[attr-defined]


async def test_the_order_can_be_changed(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        for way, shown in (("weight", "1393"), ("cost", "5970"), ("pattern", "P-220")):
            await pilot.press("b")
            await pilot.pause()
            assert message(app) == f"By {way}."
            assert shown in whole(app)
        await pilot.press("enter")
        assert "Order by count" in message(app)
        await pilot.press("b", "enter", "b")
        assert "Faults are ordered at the top" in message(app)


async def test_an_action_is_agreed_with_owner_and_date_and_kept(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("1", "2", "a")
        assert isinstance(app.screen, Agree)
        await pilot.press("enter")
        await type_in(pilot, "A. Example", "enter")
        await type_in(pilot, "14", "enter")
        assert message(app).startswith("Agreed, and kept in ")
        (kept,) = read_actions(app.walk.beside)
        assert kept.text == BATCH.causes[0].action
        assert (kept.owner, kept.due, kept.agreed) == ("A. Example", date(2026, 4, 15), TODAY)
        assert (kept.defect, kept.cause) == (CORE, "core-underbaked")


async def test_an_action_can_be_agreed_on_a_fault_alone(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "down", "a")
        await type_in(pilot, "pour sooner", "enter", "enter", "enter")
        (kept,) = read_actions(app.walk.beside)
        assert (kept.text, kept.owner, kept.due) == ("pour sooner", "", None)
        assert (kept.defect, kept.cause) == (MISRUN, "")


async def test_what_is_wrong_with_an_action_is_told_and_nothing_is_lost(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("a", "enter", "enter", "enter")
        assert "Say what is to be done." in whole(app)
        await pilot.press("up", "up")
        await type_in(pilot, "bake longer", "enter", "enter")
        await type_in(pilot, "03.04", "enter")
        assert "is no date" in whole(app)
        assert "bake longer" in whole(app)
        await pilot.press("escape")
        assert read_actions(app.walk.beside) == []


async def test_an_action_can_be_struck_out(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        for text in ("first", "second"):
            await pilot.press("a")
            await type_in(pilot, text, "enter", "enter", "enter")
        await pilot.press("g", "x")
        assert [one.text for one in read_actions(app.walk.beside)] == ["second"]
        await pilot.press("x", "x")
        assert read_actions(app.walk.beside) == []
        assert "No action was agreed yet." in whole(app)


async def test_a_broken_file_of_actions_is_told_and_left_alone(app: BatchApp) -> None:
    app.walk.beside.write_text("actions: 3\n", encoding="utf-8")
    async with app.run_test(size=(80, 24)) as pilot:
        assert "no list under 'actions:'" in message(app)
        await pilot.press("a")
        await type_in(pilot, "bake", "enter", "enter", "enter")
        assert "no list under 'actions:'" in message(app)
    assert app.walk.beside.read_text(encoding="utf-8") == "actions: 3\n"


async def test_the_minutes_are_written_and_shown(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("a")
        await type_in(pilot, "bake longer", "enter")
        await type_in(pilot, "A. Example", "enter", "enter", "m")
        assert isinstance(app.screen, OverPage)
        assert "Minutes of the scrap meeting, 1 April 2026" in whole(app)
    told = (app.walk.beside.parent / "quarter-minutes.txt").read_text(encoding="utf-8")
    assert "1. A. Example, no date set: Bake longer." in told


async def test_the_pack_is_written(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("p")
        await pilot.pause()
        assert message(app) == f"10 files are in {app.walk.folder}."
        assert (app.walk.folder / "made-up-quarter-pack.html").exists()


async def test_a_pack_that_cannot_be_written_is_told(app: BatchApp) -> None:
    app.walk.folder.write_text("", encoding="utf-8")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("p")
        await pilot.pause()
        assert "cannot be kept in" in message(app)


@pytest.mark.parametrize(
    ("keys", "opened"),
    [
        (["down", "o"], Opened("sand-inclusion")),
        (["1", "2", "o"], Opened(CORE, (("core maker", "C"),))),
        (["1", "3", "2", "o"],
         Opened(CORE, (("plate", "P-114"), ("core maker", "C")), "core-vent-blocked")),
        (["3", "1", "1", "1"], Opened(MISRUN, (), "waited-too-long")),
    ],
)  # fmt: skip
async def test_a_reject_can_be_opened_from_every_level(
    app: BatchApp, keys: list[str], opened: Opened
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*keys)
    assert app.return_value == opened


async def test_the_meeting_goes_on_where_it_was_after_a_reject(
    app: BatchApp, tmp_path: Path
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("1", "2", "o")
    again = BatchApp(app.walk)
    async with again.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "[Causes]" in whole(again)
        assert "blow from core gas > core maker C" in whole(again)


async def test_charts_and_details_can_be_read(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("t")
        assert "At a glance" in whole(app)
        await pilot.press("escape", "d")
        assert "Scrap row 118: more castings scrapped than poured" in whole(app)
        await pilot.press("pagedown", "pagedown")
        assert "“gribbly” 7 times" in whole(app) or "does not prove" in whole(app)


async def test_what_explains_a_line_can_be_scrolled(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("1", "2", "tab")
        page = app.screen.query_one("#explained")
        assert page.has_focus
        await pilot.press("down", "down")
        await pilot.pause()
        assert page.scroll_y == 2
        await pilot.press("enter")
        assert "[Casting]" in whole(app)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("batch", [BATCH, BARE, EMPTY], ids=["full", "bare", "empty"])
async def test_every_key_can_be_pressed_on_every_level(
    batch: Batch, size: tuple[int, int], tmp_path: Path
) -> None:
    app = app_of(batch, tmp_path)
    async with app.run_test(size=size) as pilot:
        for _ in range(4):
            for key in ("b", "t", "escape", "d", "escape", "g", "escape", "m", "escape", "a",
                        "escape", "question_mark", "escape", "tab", "tab", "9"):  # fmt: skip
                await pilot.press(key)
            rows = whole(app).splitlines()
            assert max(map(len, rows)) <= size[0]
            assert "? keys  q leave" in rows[-1]
            if app.walk.by == "pattern":
                await pilot.press("b")
            if app.walk.level != "casting":
                await pilot.press("enter")


async def test_a_small_window_says_so_and_goes_on(app: BatchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("1")
        await pilot.resize_terminal(40, 10)
        assert isinstance(app.screen, Small)
        await pilot.resize_terminal(60, 20)
        await pilot.pause()
        assert "[Where]" in whole(app)


def test_the_pareto_with_a_bar_explained(app: BatchApp, snap_compare: Compare) -> None:
    assert snap_compare(app, terminal_size=(80, 24))


def test_the_pareto_in_a_narrow_window(app: BatchApp, snap_compare: Compare) -> None:
    assert snap_compare(app, terminal_size=(60, 20))


def test_where_it_concentrates(app: BatchApp, snap_compare: Compare) -> None:
    assert snap_compare(app, press=["1", "down"], terminal_size=(80, 24))


def test_causes_without_colour(tmp_path: Path, snap_compare: Compare) -> None:
    app = app_of(BATCH, tmp_path, colour=False)
    assert snap_compare(app, press=["1", "2"], terminal_size=(80, 24))


def test_one_casting_in_a_narrow_window(app: BatchApp, snap_compare: Compare) -> None:
    assert snap_compare(app, press=["1", "2", "1"], terminal_size=(60, 20))


def test_an_action_being_agreed(app: BatchApp, snap_compare: Compare) -> None:
    assert snap_compare(app, press=["1", "2", "a", "enter"], terminal_size=(80, 24))


async def test_from_the_sheet_to_the_pack_takes_few_keys(tmp_path: Path) -> None:
    """Three actions with owner and date, minutes and pack; the measure is ours: twenty minutes."""
    count = await walk(BATCH, tmp_path, (1, 3, 4))
    assert count.steering <= 40
    assert count.typing == 3 * len("A. Example14")
