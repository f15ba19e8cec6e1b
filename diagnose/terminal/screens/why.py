"""Why a cause stands where it does: every finding, and how it speaks."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen

from diagnose.basics.layout import Line, Section
from diagnose.notes.verdict import pushes
from diagnose.notes.wording import percent, sentence
from diagnose.session.session import Session
from diagnose.terminal.screens.frame import KeysLine
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.pages import Page

MOST = 9


class Why(ModalScreen[None]):
    """Shows one cause at a time, starting with the one marked."""

    BINDINGS = PLACES["why"].bindings()

    def __init__(self, session: Session, at: int = 0) -> None:
        super().__init__()
        self.session = session
        self.causes = session.causes()[:MOST]
        self.at = at

    def compose(self) -> ComposeResult:
        """Lay the page out."""
        with Vertical(id="pane", classes="tall"):
            yield Page(id="page")
        yield KeysLine("why")

    def on_mount(self) -> None:
        """Show the marked cause."""
        self.action_other(0)
        self.query_one(Page).focus()

    def action_other(self, step: int) -> None:
        """Show another cause."""
        self.at = (self.at + step) % len(self.causes)
        cause = self.causes[self.at]
        title = f"Why: {cause.name}, {percent(cause.probability)}"
        told = self.session.mechanism(cause.id)
        page = [
            Section(title, pushes(self.session.explain(cause.id))),
            Section("How it comes about", tuple(Line(sentence(text), "-  ") for text in told)),
        ]
        self.query_one(Page).fill([section for section in page if section.lines])
