"""The note: read here, written to files, copied."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from diagnose.basics.layout import WIDTH
from diagnose.notes import render
from diagnose.terminal.screens.frame import Step
from diagnose.terminal.screens.keys import PLACES


class Note(Step):
    """The note as text; Up, Down, PgUp and PgDn scroll."""

    place = "note"
    BINDINGS = PLACES["note"].bindings()

    def body(self) -> Iterable[Widget]:
        """Lay out the page."""
        yield VerticalScroll(Static(markup=False, id="text"), id="note")

    def show(self) -> None:
        """Show the note as it stands, as wide as the window takes it."""
        self._lay_out()
        self.query_one("#note").focus()

    def on_resize(self) -> None:
        """Fold the note anew."""
        self._lay_out()

    def _lay_out(self) -> None:
        room = self.query_one("#text").content_size.width
        width = min(WIDTH, room) if room else WIDTH
        self.query_one("#text", Static).update(render.render(self.session, "txt", width=width))

    def action_write(self) -> None:
        """Write the note in every form and say where the files are."""
        wrong, paths = self.bench.made(lambda: render.write(self.session, Path.cwd()))
        self.say(wrong or "Written:\n" + "\n".join(str(path) for path in paths or ()))

    def action_copy(self) -> None:
        """Hand the text to the terminal to copy, and write it to a file in any case."""
        self.app.copy_to_clipboard(render.render(self.session, "txt"))
        wrong, paths = self.bench.made(lambda: render.write(self.session, Path.cwd(), ["txt"]))
        where = f"It is also in {paths[0]}" if paths else wrong
        self.say(f"Copied, if this terminal takes copies. {where}")
