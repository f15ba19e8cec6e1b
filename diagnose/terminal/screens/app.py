"""The app: which screen is shown, and the few things that every screen can do."""

from __future__ import annotations

import traceback

from rich.text import Text
from textual.screen import ModalScreen, Screen

from diagnose.basics.errors import Fault
from diagnose.session.autosave import Bench, new_bench, resumed_bench
from diagnose.session.session import Session
from diagnose.session.shelf import Shelf
from diagnose.terminal.screens.about import About
from diagnose.terminal.screens.ask import Ask
from diagnose.terminal.screens.frame import Go, Step
from diagnose.terminal.screens.note import Note
from diagnose.terminal.screens.pick import Pick, numbered
from diagnose.terminal.screens.readings import Readings
from diagnose.terminal.screens.said import Said
from diagnose.terminal.screens.see import See
from diagnose.terminal.screens.start import Start
from diagnose.terminal.screens.sums import Sums
from diagnose.terminal.screens.verdict import Verdict
from diagnose.terminal.screens.window import Window

STEPS: dict[str, type[Step]] = {
    step.place: step for step in (About, See, Ask, Readings, Verdict, Note, Said, Sums)
}
ORDER = ("about", "see", "ask", "readings", "verdict", "note")


class DiagnoseApp(Window[None]):
    """Works one reject after another, each kept at every change."""

    def __init__(self, session: Session, shelf: Shelf, *, colour: bool = True) -> None:
        super().__init__(colour=colour)
        self.session = session
        self.shelf = shelf
        self.bench: Bench | None = None

    def on_mount(self) -> None:
        """Begin with the shelf, or with the reject that was handed over."""
        if self.session.reject.findings:
            self.bench = new_bench(self.session, self.shelf)
            self.push_screen(Ask(self.bench))
        else:
            self.push_screen(Start(self.shelf))

    def on_start_chosen(self, event: Start.Chosen) -> None:
        """Put the chosen reject on the bench and go to work on it."""
        try:
            if event.path is None:
                self.bench = new_bench(self.session.another(), self.shelf)
                self._show(About(self.bench))
            else:
                self.bench = resumed_bench(self.session, self.shelf, event.path)
                self._show(See(self.bench))
        except Fault as fault:
            self._show(Start(self.shelf, f"{event.path} cannot be read. {fault}"))

    def _show(self, screen: Screen[None]) -> None:
        self.switch_screen(screen)

    def on_go(self, event: Go) -> None:
        """Go to the step that a screen asks for."""
        self._go(event.place, event.entry)

    def action_step(self, place: str) -> None:
        """Go to a step."""
        self._go(place)

    def _go(self, place: str, entry: str = "") -> None:
        if self.bench is None or (isinstance(self.screen, Step) and not self.screen.leave()):
            return
        if place == "ask":
            self._show(Ask(self.bench, entry))
        else:
            self._show(STEPS[place](self.bench))

    def action_one_back(self) -> None:
        """Close what is open, or go to the step before; from the first, back to the shelf."""
        here = self.screen
        if isinstance(here, ModalScreen):
            here.dismiss(None)
        elif isinstance(here, Step) and here.place in ORDER[1:]:
            self._go(ORDER[ORDER.index(here.place) - 1])
        elif isinstance(here, Step) and here.place in ("said", "sums"):
            self._go("ask")
        elif isinstance(here, Step) and here.leave():
            self._show(Start(self.shelf))

    def action_undo(self) -> None:
        """Take the last change back."""
        self._step_in_time(back=True)

    def action_redo(self) -> None:
        """Put the last change back that was taken back."""
        self._step_in_time(back=False)

    def _step_in_time(self, *, back: bool) -> None:
        here = self.screen
        if self.bench is None or not isinstance(here, Step):
            return
        session, moved = self.bench.session, []
        self.bench.change(lambda: moved.append(session.undo() if back else session.redo()))
        here.again()
        done = ("Taken back." if back else "Put back.") if moved[0] else "There is nothing more."
        here.say(done)

    def action_leave(self) -> None:
        """Leave; ask first where the reject could not be kept."""
        here = self.screen
        if isinstance(here, Step):
            here.leave()
        if self.bench is not None and self.bench.trouble:
            self.bench.save()
        if self.bench is None or not self.bench.trouble:
            self.exit()
            return
        ways = numbered(
            [("stay", "stay, and make room first"), ("go", "leave; what is not kept is lost")]
        )
        self.push_screen(Pick(self.bench.trouble, ways), self._leave_or_stay)

    async def action_quit(self) -> None:
        """Leave as every other way of leaving does."""
        self.action_leave()

    def _leave_or_stay(self, chosen: str | None) -> None:
        if chosen == "go":
            self.exit()

    def _fatal_error(self) -> None:
        """Leave a short account of a mistake in the program, and where the reject is kept."""
        kept = ""
        if self.bench is not None:
            kept = f"The reject is kept: {self.shelf.path_for(self.bench.session.reject.name)}\n"
        told = f"{traceback.format_exc()}\nThe program made a mistake of its own.\n{kept}"
        self.panic(Text(told))


def run(session: Session, shelf: Shelf) -> None:
    """Work rejects on the whole screen until the person leaves."""
    import os

    app = DiagnoseApp(session, shelf, colour="NO_COLOR" not in os.environ)
    app.run(mouse=False)
    if app.bench is not None and (kept := shelf.path_for(app.bench.session.reject.name)).exists():
        print(f"Kept: {kept}")
