"""A page laid over a step, to be read and closed."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen

from diagnose.basics.layout import Section
from diagnose.terminal.screens.frame import KeysLine
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.pages import Page


class OverPage(ModalScreen[None]):
    """Shows sections that may be longer than the window."""

    BINDINGS = PLACES["page"].bindings()

    def __init__(self, sections: Sequence[Section]) -> None:
        super().__init__()
        self.sections = sections

    def compose(self) -> ComposeResult:
        """Lay the page out."""
        with Vertical(id="pane", classes="tall"):
            yield Page(id="page")
        yield KeysLine("page")

    def on_mount(self) -> None:
        """Fill the page."""
        page = self.query_one(Page)
        page.fill(self.sections)
        page.focus()
