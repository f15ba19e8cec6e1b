"""The verdict on a page, with the questions that could still change it."""

from __future__ import annotations

from collections.abc import Iterable

from textual.widget import Widget

from diagnose.notes.pictures import drawn
from diagnose.notes.verdict import verdict
from diagnose.terminal.screens.frame import Go, Step
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.pages import EDGES, Page
from diagnose.terminal.screens.why import Why


class Verdict(Step):
    """What it was, how sure, why, and what would change it."""

    place = "verdict"
    BINDINGS = PLACES["verdict"].bindings()

    def body(self) -> Iterable[Widget]:
        """Lay out the page."""
        yield Page(id="page")

    def show(self) -> None:
        """Show the verdict as it stands."""
        page = self.query_one(Page)
        fault = self.session.defects()[0].id
        width = self.app.size.width - EDGES
        pictures = drawn(self.session.book, fault, width)
        page.fill([*verdict(self.session, on_screen=True), *pictures])
        page.focus()

    def action_look_into(self, number: int) -> None:
        """Put the question that could change the verdict."""
        changes = self.session.would_change()
        if number <= len(changes):
            self.post_message(Go("ask", changes[number - 1].question))

    def action_why(self) -> None:
        """Show what speaks for and against the causes."""
        self.app.push_screen(Why(self.session))
