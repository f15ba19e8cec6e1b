"""The app: which screen is shown, and the few things that every screen can do."""

from __future__ import annotations

import traceback
from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING

from rich.text import Text
from textual.screen import ModalScreen, Screen

from diagnose.basics.errors import Fault
from diagnose.basics.letters import harmless
from diagnose.session.shelf import Shelf
from diagnose.terminal.screens.frame import Go, Step
from diagnose.terminal.screens.opening import Opening
from diagnose.terminal.screens.pick import Pick, numbered
from diagnose.terminal.screens.start import Start
from diagnose.terminal.screens.window import Window

if TYPE_CHECKING:
    from diagnose.session.autosave import Bench
    from diagnose.session.session import Session

ORDER = ("about", "see", "ask", "readings", "verdict", "note")


class DiagnoseApp(Window[None]):
    """Works one reject after another, each kept at every change."""

    def __init__(self, session: Session | Opening, shelf: Shelf, *, colour: bool = True) -> None:
        """``session``: on a reject to go on with, or one that is still to be opened."""
        super().__init__(colour=colour)
        self.opening = session if isinstance(session, Opening) else None
        self._session = None if isinstance(session, Opening) else session
        self.shelf = shelf
        self.bench: Bench | None = None

    def on_mount(self) -> None:
        """Begin with the shelf, or with the reject that was handed over."""
        if self._session is not None and self._session.reject.findings:
            from diagnose.session.autosave import new_bench

            self.bench = new_bench(self._session, self.shelf)
            self.push_screen(self._step("ask", self.bench))
            return
        self.push_screen(Start(self.shelf))
        if self.opening is not None:
            self.call_after_refresh(self.opening.begin, self._opened)

    @property
    def session(self) -> Session:
        """The session that others are made from; waits until it is opened."""
        if self._session is None:
            assert self.opening is not None
            self._session = self.opening.session()
        return self._session

    def _opened(self) -> None:
        """Leave where the rule base cannot be worked with; ``run`` says why."""
        assert self.opening is not None
        if self.opening.wrong is not None:
            self.call_from_thread(self.exit)

    def _step(self, place: str, bench: Bench) -> Step:
        from diagnose.terminal.screens.steps import STEPS

        return STEPS[place](bench)

    def on_start_chosen(self, event: Start.Chosen) -> None:
        """Put the chosen reject on the bench and go to work on it."""
        from diagnose.session.autosave import new_bench, resumed_bench

        if self.opening is not None:
            self.opening.wait()
            if self.opening.wrong is not None:
                self.exit()  # ``run`` says why
                return
        session = self.session
        try:
            if event.path is None:
                self.bench = new_bench(session.another(), self.shelf)
                self._show(self._step("about", self.bench))
            else:
                self.bench = resumed_bench(session, self.shelf, event.path)
                self._show(self._step("see", self.bench))
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
            from diagnose.terminal.screens.ask import Ask

            self._show(Ask(self.bench, entry))
        else:
            self._show(self._step(place, self.bench))

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
            self._unless_unsaid(lambda: self._unless_lost(lambda: self._show(Start(self.shelf))))

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
        session = self.bench.session
        _, moved = self.bench.made(session.undo if back else session.redo)
        here.again()
        done = ("Taken back." if back else "Put back.") if moved else "There is nothing more."
        here.say(done)

    def action_leave(self) -> None:
        """Leave; ask first where the reject could not be kept."""
        here = self.screen
        if isinstance(here, Step):
            here.leave()
        self._unless_unsaid(lambda: self._unless_lost(self.exit))

    def _unless_unsaid(self, go: Callable[[], object]) -> None:
        """Go, unless something is typed that was not said yet: ask first what becomes of it."""
        typed = {place: text for place, text in self._typed().items() if text.strip()}
        if not typed:
            go()
            return
        place, text = next(iter(typed.items()))
        ways = [("stay", "stay, and say it first"), ("drop", "leave without it")]
        if place == "see":
            ways.insert(1, ("say", "say it, and leave"))

        def chosen(way: str | None) -> None:
            assert self.bench is not None
            if way == "stay":
                self._go(place)
            elif way in ("say", "drop"):
                wrong = self.bench.see(text.strip()) if way == "say" else ""
                self.bench.drafts.pop(place, None)
                if wrong:
                    self._go(place)
                else:
                    self._unless_unsaid(go)

        self.push_screen(
            Pick(f"Typed, and not said yet: {text.strip()[:60]}", numbered(ways)), chosen
        )

    def _typed(self) -> dict[str, str]:
        """Return what is typed at each place and not said; a sum says nothing of the reject."""
        drafts = {} if self.bench is None else self.bench.drafts
        return {place: drafts[place] for place in ("see", "readings") if place in drafts}

    def _unless_lost(self, go: Callable[[], object]) -> None:
        """Go, unless the reject could not be kept: ask first then."""
        if self.bench is not None and self.bench.trouble:
            self.bench.save()
        if self.bench is None or not self.bench.trouble:
            go()
            return
        ways = numbered(
            [("stay", "stay, and make room first"), ("go", "leave; what is not kept is printed")]
        )

        def chosen(way: str | None) -> None:
            if way == "go":
                go()

        self.push_screen(Pick(self.bench.trouble, ways), chosen)

    async def action_quit(self) -> None:
        """Leave as every other way of leaving does."""
        self.action_leave()

    def _fatal_error(self) -> None:
        """Leave a short account of a mistake in the program, and where the reject is kept."""
        kept = "" if self.bench is None else told_where(self.bench)[0]
        told = f"{traceback.format_exc()}\nThe program made a mistake of its own.\n{kept}"
        self.panic(Text(told))


def told_where(bench: Bench) -> tuple[str, bool]:
    """Say where the reject is kept, after looking, or else all of it; and whether nothing is lost.

    Nothing is said where nothing was entered.
    """
    from diagnose.session.autosave import BY_HAND

    with suppress(Fault):
        if bench.is_kept():
            return f"Kept: {bench.file.path}\n", True
    if not bench.trouble:
        return "", True
    return f"{bench.trouble}\n{BY_HAND}\n{bench.by_hand()}", False


def run(open_session: Callable[[], Session], shelf: Shelf) -> bool:
    """Work rejects on the whole screen until the person leaves.

    Returns whether all that was entered is kept. Raises Fault where the rule base cannot be worked
    with.
    """
    import os

    opening = Opening(open_session)
    app = DiagnoseApp(opening, shelf, colour="NO_COLOR" not in os.environ)
    app.run(mouse=False)
    if opening.wrong is not None:
        raise opening.wrong
    if app.bench is None:
        return True
    told, kept = told_where(app.bench)
    print(harmless(told), end="")
    return kept
