"""The sums on the screens: chosen by part of a name, readings put in, the working shown.

Moisture of sand by loss of weight, (moist - dry) / moist: common practice; 50 g losing 1.65 g is
3.3 %. Water for a batch keeps the dry sand: 100 kg at 2 % brought to 4 % hold 98 kg of dry sand,
98 / 0.96 - 100 = 2.083 kg.
"""

from __future__ import annotations

import pytest

from diagnose.shop.calculation import Input
from diagnose.terminal.screens.app import DiagnoseApp
from diagnose.terminal.screens.ask import Ask
from diagnose.terminal.screens.figures import Figures, hint
from diagnose.terminal.screens.lists import PickList
from diagnose.terminal.screens.overpage import OverPage
from diagnose.terminal.screens.sums import NONE_SUCH, Sums
from tests.terminal.screens.conftest import shown, type_in, whole


def rows(app: DiagnoseApp, selector: str) -> dict[str, str]:
    return {row.id: row.text for row in app.screen.query_one(selector, PickList).rows}


async def test_part_of_a_name_finds_a_sum_and_its_figures_are_asked_one_by_one(
    app: DiagnoseApp,
) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f10")
        await type_in(pilot, "moist sand")
        assert "moisture" in rows(app, "#sums")
        assert "permeability" not in rows(app, "#sums")
        await pilot.press("enter")
        assert isinstance(app.screen, Figures)
        await type_in(pilot, "50", "enter")
        assert rows(app, "#figures")["moist"] == "50 g"
        await type_in(pilot, "48.35 g", "enter")
        assert isinstance(app.screen, OverPage)
        page = whole(app)
        assert "Moisture of sand: 3.3 %" in page
        assert "= (50 - 48.35) / 50 x 100" in page
        assert "Mind: " in page
        assert "Source: " in page
        await pilot.press("escape", "escape")
        assert isinstance(app.screen, Sums)


async def test_a_reading_stands_there_already_and_may_be_typed_over(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f5")
        await type_in(pilot, "moisture 2 %", "enter", "f10")
        await type_in(pilot, "water-addition", "enter")
        assert rows(app, "#figures")["moisture"] == "2 %  (from the readings)"
        await type_in(pilot, "100 kg", "enter", "enter")
        await type_in(pilot, "4", "enter", "enter", "enter")
        assert "Water to temper a batch: 2.083 kg" in whole(app)
        await pilot.press("escape", "up", "up", "up")
        await type_in(pilot, "3", "down")
        assert rows(app, "#figures")["moisture"] == "3 %"
        await pilot.press("down", "down", "enter")
        assert "Water to temper a batch: 1.042 kg" in whole(app)


async def test_a_wrong_figure_is_told_and_kept(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f10")
        await type_in(pilot, "water-addition", "enter")
        await type_in(pilot, "4 %", "enter")
        assert "does not fit mass" in shown(app, "#fault")
        assert app.screen.query_one("#figure").value == "4 %"  # type: ignore[attr-defined]
        await pilot.press("down")
        assert "> batch" in whole(app)


async def test_what_is_lacking_is_told(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f10")
        await type_in(pilot, "water-addition", "enter", *["enter"] * 5)
        assert "batch is missing" in shown(app, "#fault")
        assert isinstance(app.screen, Figures)


async def test_figures_are_kept_until_the_program_is_left(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f10")
        await type_in(pilot, "water-addition", "enter")
        await type_in(pilot, "100 kg", "enter", "escape", "f4", "o", "enter")
        assert rows(app, "#figures")["batch"] == "100 kg"


async def test_words_that_are_in_no_name_leave_nothing_to_take(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f10")
        await type_in(pilot, "cheese", "enter")
        assert isinstance(app.screen, Sums)
        assert shown(app, "#message") == NONE_SUCH
        await pilot.press("escape")
        assert isinstance(app.screen, Ask)


async def test_the_list_is_gone_down_with_and_without_the_field(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f10", "down", "pagedown", "tab", "up", "enter")
        chosen = app.screen
        assert isinstance(chosen, Figures)
        await pilot.press("escape")
        assert chosen.calculation.title in whole(app)


@pytest.mark.parametrize(
    ("wanted", "words"),
    [
        (Input("hours", "hours at each task", "h", table=True), "first:...,second:...h"),
        (Input("factor", "margin on the lift", ""), "a number"),
    ],
)
def test_the_field_says_what_may_be_typed(wanted: Input, words: str) -> None:
    assert hint(wanted) == words
