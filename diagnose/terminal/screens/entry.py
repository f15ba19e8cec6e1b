"""One reading asked for in a pane over the questions."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from diagnose.session.autosave import Bench
from diagnose.terminal.screens.field import Field
from diagnose.terminal.screens.frame import KeysLine
from diagnose.terminal.screens.keys import PLACES


class Entry(ModalScreen[bool]):
    """Asks for one reading and keeps the text until it is right; gives whether one was taken."""

    BINDINGS = PLACES["entry"].bindings()

    def __init__(self, bench: Bench, measurement: str) -> None:
        super().__init__()
        self.bench = bench
        self.measurement = measurement

    def compose(self) -> ComposeResult:
        """Lay the question out."""
        entry = self.bench.session.book.measurements[self.measurement]
        with Vertical(id="pane"):
            yield Static(f"{entry.name}, with its unit", classes="heading", markup=False)
            yield Static(entry.how, markup=False)
            yield Field(hint=f"in {entry.unit}", id="reading")
            yield Static("", id="fault", markup=False)
        yield KeysLine("entry")

    def on_mount(self) -> None:
        """Be ready for typing."""
        self.query_one(Field).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the reading, or say what is wrong with it."""
        session = self.bench.session
        wrong = self.bench.change(lambda: session.measure(self.measurement, event.value))
        if wrong:
            self.query_one("#fault", Static).update(wrong)
        else:
            self.dismiss(True)
