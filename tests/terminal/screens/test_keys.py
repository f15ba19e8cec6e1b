"""The keys: one source, all documented, all reachable, the bottom line never too long."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.terminal.screens.agree import Agree, Agreed
from diagnose.terminal.screens.allkeys import AllKeys, key_sections
from diagnose.terminal.screens.app import DiagnoseApp
from diagnose.terminal.screens.batch import BatchApp, Walking
from diagnose.terminal.screens.entry import Entry
from diagnose.terminal.screens.figures import Figures
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.overpage import OverPage
from diagnose.terminal.screens.pick import Pick
from diagnose.terminal.screens.sheet import TableRead
from diagnose.terminal.screens.small import LEAST, Small
from diagnose.terminal.screens.start import Start
from diagnose.terminal.screens.steps import STEPS
from diagnose.terminal.screens.why import Why
from tests.terminal.screens.conftest import whole

SCREENS = {
    **STEPS,
    "start": Start,
    "pick": Pick,
    "entry": Entry,
    "sheet": TableRead,
    "figures": Figures,
    "batch": Walking,
    "agree": Agree,
    "agreed": Agreed,
    "page": OverPage,
    "why": Why,
    "keys": AllKeys,
    "small": Small,
}
OF_BATCH = {"batch", "agree", "agreed"}
PAGE = Path(__file__).parents[3] / "docs" / "keys.md"
PLAIN_KEYS = {
    *"abcdefghijklmnopqrstuvwxyz0123456789",
    *(f"f{number}" for number in range(1, 13) if number != 11),
    *("question_mark", "enter", "escape", "tab", "up", "down", "left", "right"),
    *("pageup", "pagedown"),
}
"""Keys that every terminal sends: no modifier is needed, and nothing of the terminal's own.

F11 is often the terminal's: the whole screen."""


def test_the_page_of_keys_lists_them_all_and_no_other() -> None:
    rows = {line for line in PAGE.read_text(encoding="utf-8").splitlines() if line[:2] == "| "}
    listed = {
        f"| {line.left.strip()} | {line.text} |"
        for section in key_sections("start")
        for line in section.lines
    }
    assert rows - {"| Key | What it does |"} == listed


@pytest.mark.parametrize("place", PLACES)
def test_bottom_lines_are_short(place: str) -> None:
    keys = PLACES[place].bottom()
    assert len(keys) <= 6
    assert len("  ".join(f"{shown} {label}" for shown, label in keys)) <= LEAST[0]


@pytest.mark.parametrize("place", PLACES)
def test_every_key_is_plain_and_does_something(place: str) -> None:
    screen = SCREENS[place]
    for binding in PLACES[place].bindings():
        assert binding.key in PLAIN_KEYS  # type: ignore[union-attr]
        action = binding.action.partition("(")[0]  # type: ignore[union-attr]
        app = BatchApp if place in OF_BATCH else DiagnoseApp
        owner = app if action.startswith("app.") else screen
        assert hasattr(owner, f"action_{action.removeprefix('app.')}")


def test_help_and_leaving_come_first_at_every_step() -> None:
    for place in STEPS:
        assert [label for _, label in PLACES[place].bottom()][:2] == ["keys", "leave"]


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
@pytest.mark.parametrize("place", STEPS)
async def test_the_bottom_line_is_seen_whole(
    app: DiagnoseApp, place: str, size: tuple[int, int]
) -> None:
    key = next(key.twin for key in PLACES["ask"].keys if key.action == f"app.step('{place}')")
    async with app.run_test(size=size) as pilot:
        await pilot.press("1", key.lower())
        last = whole(app).splitlines()[-1].strip()
    assert last == "  ".join(f"{shown} {label}" for shown, label in PLACES[place].bottom())


@pytest.mark.parametrize("key", ["question_mark", "f1"])
async def test_help_shows_the_keys_of_the_screen_first(app: DiagnoseApp, key: str) -> None:
    async with app.run_test() as pilot:
        await pilot.press("1", "f4", key)
        assert "Here: The questions" in whole(app)
        await pilot.press("escape")
        assert app.screen is not None
        assert getattr(app.screen, "place", "") == "ask"
