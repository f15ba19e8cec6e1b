"""Which reject: a new one, or one from the shelf."""

from __future__ import annotations

from pathlib import Path

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.message import Message
from textual.screen import Screen
from textual.widgets import OptionList, Static

from diagnose.session.shelf import Shelf
from diagnose.terminal.screens.frame import KeysLine
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.lists import PickList
from diagnose.terminal.screens.pick import numbered

ASKS = "Why was this casting scrapped?"
NEW = "a new reject"


class Start(Screen[None]):
    """A list: a new reject first, then those on the shelf, the latest first."""

    BINDINGS = PLACES["start"].bindings()

    class Chosen(Message):
        """Says which reject: a file on the shelf, or None for a new one."""

        def __init__(self, path: Path | None) -> None:
            super().__init__()
            self.path = path

    def __init__(self, shelf: Shelf, message: str = "") -> None:
        super().__init__()
        self.shelf = shelf
        self.message = message

    def compose(self) -> ComposeResult:
        """Lay the list out."""
        with Vertical(id="starting"):
            yield Static(ASKS, classes="heading", markup=False)
            yield Static("Take a new reject, or go on with one.", markup=False)
            yield PickList(id="rejects")
        yield Static(self.message, id="message", markup=False)
        yield KeysLine("start")

    def on_mount(self) -> None:
        """Show what is on the shelf."""
        self.query_one("#message").display = bool(self.message)
        kept = [
            (str(one.path), f"{one.name}   last worked on {one.changed:%d %b %Y, %H:%M}")
            for one in self.shelf.kept()
        ]
        rejects = self.query_one(PickList)
        rejects.fill(numbered([("new", NEW), *kept]))
        rejects.focus()

    def action_pick(self, number: int) -> None:
        """Take the line with this number."""
        rows = self.query_one(PickList).rows
        if number <= len(rows):
            self._choose(rows[number - 1].id)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Take the marked line."""
        self._choose(event.option_id or "new")

    def _choose(self, row: str) -> None:
        self.post_message(self.Chosen(None if row == "new" else Path(row)))
