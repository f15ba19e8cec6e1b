"""Phrases: what was understood can be put right, what was not is kept."""

from __future__ import annotations

from textual.events import Paste
from textual.pilot import Pilot

from diagnose.reject import Reject
from diagnose.screens.app import DiagnoseApp
from diagnose.screens.field import Field
from diagnose.screens.lists import PickList
from diagnose.screens.pick import Pick
from tests.screens.conftest import shown, type_in, whole


def reject(app: DiagnoseApp) -> Reject:
    assert app.bench is not None
    return app.bench.session.reject


async def say(pilot: Pilot[None], phrase: str) -> None:
    await pilot.press("1", "f3")
    await type_in(pilot, phrase, "enter")


async def test_the_words_stand_beside_what_they_were_taken_for(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "smooth holes by the core")
        rows = {row.id: row.text for row in app.screen.query_one("#phrases", PickList).rows}
    assert rows["cavity-wall"].endswith('"smooth holes"')
    assert rows["beside-core"].endswith('"by the core"')


async def test_a_misunderstood_phrase_is_put_right(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "smooth holes")
        await pilot.press("tab", "enter")
        assert isinstance(app.screen, Pick)
        await pilot.press("2")
        found = reject(app).about("cavity-wall")
        assert found is not None
        assert (found.answer, found.said) == ("rough", "smooth holes")


async def test_a_misunderstood_phrase_is_struck_out(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "smooth holes")
        await pilot.press("tab", "enter", "0")
        assert reject(app).found == ()
        await pilot.press("f9")
        assert reject(app).about("cavity-wall") is not None


async def test_words_with_two_meanings_are_asked(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "gas hole")
        assert isinstance(app.screen, Pick)
        assert "gas hole" in str(app.screen.title_text)
        wanted = next(row for row in app.screen.rows if "core gas" in row.text)
        await pilot.press(wanted.left.strip())
        assert reject(app).about("blow-core-gas") is not None
        assert reject(app).not_understood == ()
        await pilot.press("f9")
        assert (reject(app).found, reject(app).not_understood) == ((), ("gas hole",))


async def test_words_with_two_meanings_may_be_put_off(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "gas hole")
        await pilot.press("escape")
        rows = app.screen.query_one("#phrases", PickList).rows
        assert [row.left.strip() for row in rows] == ["which one?"]
        assert reject(app).not_understood == ("gas hole",)
        await pilot.press("tab", "enter")
        assert isinstance(app.screen, Pick)


async def test_what_is_not_understood_is_shown_kept_and_can_be_struck_out(
    app: DiagnoseApp,
) -> None:
    async with app.run_test() as pilot:
        await say(pilot, "blancmange")
        rows = app.screen.query_one("#phrases", PickList).rows
        assert [row.left.strip() for row in rows] == ["not known"]
        assert reject(app).not_understood == ("blancmange",)
        await pilot.press("tab", "x")
        assert reject(app).not_understood == ()


async def test_pasted_lines_all_arrive_without_what_steers_a_screen(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3")
        app.post_message(Paste("smooth holes\n\x1b[31mby the core\n"))
        await pilot.pause()
        assert app.screen.query_one("#phrase", Field).value == "smooth holes; by the core"
        await pilot.press("enter")
        assert {found.id for found in reject(app).found} >= {"cavity-wall", "beside-core"}


async def test_a_paste_too_long_is_cut_and_told(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3")
        app.post_message(Paste("smooth holes, " * 1000))
        await pilot.pause()
        assert len(app.screen.query_one("#phrase", Field).value) == 1000
        assert "Only 1000 letters" in shown(app, "#message")


async def test_a_half_typed_phrase_waits(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3")
        await type_in(pilot, "smooth ho")
        await pilot.press("f4", "f3")
        assert app.screen.query_one("#phrase", Field).value == "smooth ho"


async def test_nothing_said_yet(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3", "tab", "f9")
        assert shown(app, "#understood") == "Nothing said yet."
        assert shown(app, "#message") == "There is nothing more."


async def test_brackets_that_somebody_types_are_shown(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f3")
        phrases = app.screen.query_one("#phrases", PickList)
        app.screen.query_one("#phrase", Field).value = "blancmange [bold] custard"
        await pilot.press("enter")
        assert phrases.rows
        assert "blancmange [bold] custard" in whole(app)
