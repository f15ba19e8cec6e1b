"""A table of the shop: what is in doubt is asked, all of it is shown, and then it is taken down."""

from __future__ import annotations

from collections.abc import Generator
from pathlib import Path
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen

from diagnose.basics.errors import Fault
from diagnose.basics.layout import Section
from diagnose.terminal.screens.frame import KeysLine, Step
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.pages import Page
from diagnose.terminal.screens.pick import Pick, numbered

if TYPE_CHECKING:
    from diagnose.sheets.given import Doubt, Given
    from diagnose.sheets.reading import Sheet

NOTHING = "Nothing was taken down."


class TableRead(ModalScreen[bool]):
    """Shows what was made of a table; gives whether the readings are to be taken down."""

    BINDINGS = PLACES["sheet"].bindings()

    def __init__(self, sections: list[Section]) -> None:
        super().__init__()
        self.sections = sections

    def compose(self) -> ComposeResult:
        """Lay the page out."""
        with Vertical(id="pane", classes="tall"):
            yield Page(id="page")
        yield KeysLine("sheet")

    def on_mount(self) -> None:
        """Show what was recognised and read."""
        page = self.query_one(Page)
        page.fill(self.sections)
        page.focus()

    def action_take(self) -> None:
        """Say that all is right."""
        self.dismiss(True)


def take_sheet(step: Step, file: str) -> None:
    """Read a table for the reject on the bench, asking on the screen about what is in doubt."""
    from diagnose.sheets.given import Given
    from diagnose.sheets.opened import open_tables
    from diagnose.sheets.reading import settling

    try:
        tables = open_tables(Path(file).expanduser())
    except (Fault, RuntimeError) as fault:  # RuntimeError: there is no such home folder
        step.say(str(fault))
        return
    _go_on(step, settling(tables, step.session.book, Given()), None)


def _go_on(step: Step, steps: Generator[Doubt, Given | None, Sheet], known: Given | None) -> None:
    """Ask about the next doubt, or show the table when none is left."""
    try:
        doubt = steps.send(known)
    except StopIteration as end:
        _show(step, end.value)
        return
    except Fault as fault:
        step.say(str(fault))
        return

    def settle(chosen: str | None) -> None:
        if chosen is None:
            step.say(NOTHING)
        else:
            _go_on(step, steps, doubt.choices[int(chosen)].given if chosen else None)

    ways = [(str(number), choice.words) for number, choice in enumerate(doubt.choices)]
    step.app.push_screen(Pick(doubt.say, numbered(ways, "leave it open")), settle)


def _show(step: Step, sheet: Sheet) -> None:
    from diagnose.sheets.in_words import sheet_in_words
    from diagnose.sheets.into import found_on, outcome_in_words, take_down

    def take(sure: bool | None) -> None:
        wrong, outcome = NOTHING, None
        if sure and sheet.taken:
            found = found_on(sheet)
            wrong, outcome = step.bench.made(lambda: take_down(step.session, found))
        step.show()
        step.say("\n".join(outcome_in_words(step.session, outcome)) if outcome else wrong)

    step.app.push_screen(TableRead(sheet_in_words(sheet, doubts=False)), take)
