"""Windows of several sizes, and terminals without colour."""

from __future__ import annotations

from diagnose.session.session import Session
from diagnose.session.shelf import Shelf
from diagnose.terminal.screens.app import DiagnoseApp
from diagnose.terminal.screens.ask import Ask
from diagnose.terminal.screens.small import Small
from tests.terminal.screens.conftest import type_in, whole


async def test_the_causes_stand_beside_the_question(app: DiagnoseApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("1", "f4")
        asking, ranking = app.screen.query_one("#asking"), app.screen.query_one("#ranking")
        assert ranking.region.x >= asking.region.right
        assert "s  skip it, ask another" in whole(app)


async def test_a_roomy_window_draws_the_answers_and_says_why(app: DiagnoseApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("1", "f4")
        beside, ranking = app.screen.query_one("#beside"), app.screen.query_one("#ranking")
        assert beside.region.x >= ranking.region.right
        assert "Why: " in whole(app)
        await pilot.press("1")
        assert "+  " in str(app.screen.query_one("#beside").render())  # type: ignore[attr-defined]
        await pilot.resize_terminal(80, 24)
        assert not app.screen.query_one("#beside").display or "Why: " not in whole(app)


async def test_in_a_narrow_window_they_stand_below_it(app: DiagnoseApp) -> None:
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.press("1", "f4")
        asking, ranking = app.screen.query_one("#asking"), app.screen.query_one("#ranking")
        assert ranking.region.y >= asking.region.bottom
        assert "s  skip it, ask another" in whole(app)
        assert "vent of the core blocked" in whole(app)


async def test_a_window_too_small_says_so_and_goes_on_when_it_grows(app: DiagnoseApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("1", "f3")
        await type_in(pilot, "smooth")
        await pilot.resize_terminal(40, 10)
        assert isinstance(app.screen, Small)
        assert "too small" in whole(app)
        assert "Nothing is lost" in whole(app)
        await pilot.press("x", "1", "enter")
        await pilot.resize_terminal(60, 20)
        assert app.screen.query_one("#phrase").value == "smooth"  # type: ignore[attr-defined]


async def test_a_window_too_small_from_the_start(app: DiagnoseApp) -> None:
    async with app.run_test(size=(40, 10)) as pilot:
        await pilot.pause()
        assert isinstance(app.screen, Small)
        await pilot.resize_terminal(80, 24)
        await pilot.press("1", "f4")
        assert isinstance(app.screen, Ask)


async def test_without_colour_the_mark_is_a_sign_and_a_reversal(
    session: Session, shelf: Shelf
) -> None:
    app = DiagnoseApp(session, shelf, colour=False)
    async with app.run_test() as pilot:
        await pilot.press("1", "f4")
        strips = app.screen._compositor.render_strips()
        marked = [
            segment
            for strip in strips
            for segment in strip
            if segment.text.startswith("> ") and segment.style and segment.style.reverse
        ]
        assert len(marked) == 1
