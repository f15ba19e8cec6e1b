"""The questions: answered, skipped, taken back, answered anew."""

from __future__ import annotations

import pytest

from diagnose.reject.found import UNSURE
from diagnose.session.session import Session
from diagnose.session.shelf import Shelf
from diagnose.terminal.screens.app import DiagnoseApp
from diagnose.terminal.screens.ask import Ask
from diagnose.terminal.screens.entry import Entry
from diagnose.terminal.screens.frame import Go
from diagnose.terminal.screens.lists import PickList
from diagnose.terminal.screens.verdict import Verdict
from diagnose.terminal.screens.why import Why
from tests.terminal.screens.conftest import shown, type_in


def asking(app: DiagnoseApp) -> Ask:
    assert isinstance(app.screen, Ask)
    return app.screen


async def test_undo_takes_the_last_answer_back_and_asks_again(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f4")
        first = asking(app).question
        before = asking(app).session.reject
        await pilot.press("1")
        after = asking(app).session.reject
        assert asking(app).question != first
        await pilot.press("u")
        assert asking(app).session.reject == before
        assert asking(app).question == first
        await pilot.press("y")
        assert asking(app).session.reject == after


async def test_wrong_keys_change_nothing(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f4")
        before = asking(app).session.reject
        await pilot.press("9", "z", "j", "f11", "delete", "home", "ctrl+c", "G")
        assert asking(app).session.reject == before
        assert "Nothing is lost" in shown(app, "#message")


async def test_not_sure_is_taken_down_and_not_asked_again(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f4")
        question = asking(app).question
        assert question is not None
        await pilot.press("0")
        found = asking(app).session.reject.about(question.id)
        assert found is not None
        assert found.kind == UNSURE
        now = asking(app).question
        assert now is not None
        assert now.id != question.id


async def test_skipping_all_leads_to_the_verdict_or_round_again(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f4")
        first = asking(app).question
        for _ in range(12):
            await pilot.press("s")
        assert asking(app).question is None
        assert asking(app).session.reject.found == ()
        await pilot.press("2")
        assert asking(app).question == first
        for _ in range(12):
            await pilot.press("s")
        await pilot.press("enter")
        assert isinstance(app.screen, Verdict)


async def test_why_for_the_marked_cause(app: DiagnoseApp) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f4", "1", "tab", "down", "w")
        assert isinstance(app.screen, Why)
        causes = app.screen.session.causes()
        assert app.screen.query_one("#page").sections[0].title.startswith(f"Why: {causes[1].name}")  # type: ignore[attr-defined]
        await pilot.press("left")
        assert app.screen.query_one("#page").sections[0].title.startswith(f"Why: {causes[0].name}")  # type: ignore[attr-defined]
        await pilot.press("escape")
        assert app.screen.query_one("#causes", PickList).has_focus


async def test_a_reading_is_asked_for_and_a_bad_one_stays_in_the_field(
    session: Session, shelf: Shelf
) -> None:
    for look, answer in (("cavity-wall", "smooth"), ("cavity-place", "under-the-top")):
        session.answer(look, answer)
    session.answer("beside-core", "away-from-core")
    session.check("core-vent-open", "yes")
    app = DiagnoseApp(session, shelf)
    async with app.run_test() as pilot:
        await pilot.press("s")
        question = asking(app).question
        assert question is not None
        assert question.id == "sand-moisture"
        await pilot.press("1")
        assert isinstance(app.screen, Entry)
        await type_in(pilot, "46", "enter")
        assert "no unit" in shown(app, "#fault")
        assert app.screen.query_one("#reading").value == "46"  # type: ignore[attr-defined]
        await type_in(pilot, " %", "enter")
        assert "cannot be" in shown(app, "#fault")
        assert app.screen.query_one("#reading").value == "46 %"  # type: ignore[attr-defined]
        assert app.bench is not None
        assert app.bench.session.readings() == []
        await pilot.press(*["backspace"] * 3)
        await type_in(pilot, ".6", "enter")
        assert asking(app).session.readings()[0].values == (4.6,)


async def test_a_contradiction_is_told_at_once(session: Session, shelf: Shelf) -> None:
    session.answer("cavity-place", "under-the-top")
    session.answer("beside-core", "at-a-core")
    session.check("core-vent-open", "no")
    app = DiagnoseApp(session, shelf)
    async with app.run_test() as pilot:
        app.screen.post_message(Go("ask", "cavity-wall"))
        await pilot.pause()
        await pilot.press("2")
        assert "hardly goes with the rest" in shown(app, "#message")


async def test_cautions_stand_with_the_question(session: Session, shelf: Shelf) -> None:
    session.answer("cavity-wall", "smooth")
    app = DiagnoseApp(session, shelf)
    async with app.run_test() as pilot:
        for _ in range(4):
            if asking(app).question and asking(app).question.kind == "check":  # type: ignore[union-attr]
                break
            await pilot.press("s")
        assert "Care: Dry sand dust harms the lungs" in shown(app, "#question")


async def test_any_finding_is_taken_back_or_answered_anew_from_the_list(
    session: Session, shelf: Shelf
) -> None:
    session.answer("cavity-wall", "smooth")
    session.answer("beside-core", "at-a-core")
    app = DiagnoseApp(session, shelf)
    async with app.run_test() as pilot:
        await pilot.press("l", "enter")
        question = asking(app).question
        assert question is not None
        assert question.id == "cavity-wall"
        await pilot.press("2", "l", "x")
        assert app.bench is not None
        left = app.bench.session.reject.found
        assert [(found.id, found.answer) for found in left] == [("cavity-wall", "rough")]


async def test_a_question_that_no_longer_holds_gives_way(session: Session, shelf: Shelf) -> None:
    session.answer("cavity-wall", "smooth")
    app = DiagnoseApp(session, shelf)
    async with app.run_test() as pilot:
        app.screen.post_message(Go("ask", "no-such-question"))
        await pilot.pause()
        assert "no question called" in shown(app, "#message")
        assert asking(app).question is not None


async def test_the_verdict_leads_to_the_question_that_could_change_it(
    session: Session, shelf: Shelf
) -> None:
    session.answer("cavity-wall", "smooth")
    app = DiagnoseApp(session, shelf)
    async with app.run_test() as pilot:
        await pilot.press("v")
        titles = [section.title for section in app.screen.query_one("#page").sections]  # type: ignore[attr-defined]
        assert "What would change it: press its number to look into it" in titles
        wanted = session.would_change()[0].question
        await pilot.press("1")
        question = asking(app).question
        assert question is not None
        assert question.id == wanted


@pytest.mark.parametrize("key", ["i", "d", "a", "r", "v", "n", "l"])
async def test_every_step_is_left_and_come_back_to(
    session: Session, shelf: Shelf, key: str
) -> None:
    session.answer("cavity-wall", "smooth")
    app = DiagnoseApp(session, shelf)
    async with app.run_test() as pilot:
        await pilot.press(key, "f4")
        assert asking(app).session.reject.found == session.reject.found
