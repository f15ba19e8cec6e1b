"""One choice laid over a step: a question and a few numbered lines."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static

from diagnose.terminal.screens.frame import KeysLine
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.lists import PickList, Row


def numbered(choices: Sequence[tuple[str, str]], last: str = "") -> list[Row]:
    """Return rows 1 to 9 for (id, text), and a row 0 with an empty id if ``last`` is given."""
    rows = [
        Row(entry, text, f"{number}  " if number < 10 else "   ")
        for number, (entry, text) in enumerate(choices, 1)
    ]
    return [*rows, Row("", last, "0  ")] if last else rows


class Pick(ModalScreen[str | None]):
    """Asks for one of a few lines; gives its id, or None where the choice is put off."""

    BINDINGS = PLACES["pick"].bindings()

    def __init__(self, title: str, rows: Sequence[Row]) -> None:
        super().__init__()
        self.title_text = title
        self.rows = list(rows)

    def compose(self) -> ComposeResult:
        """Lay the choice out."""
        with Vertical(id="pane"):
            yield Static(self.title_text, classes="heading", markup=False)
            yield PickList(id="choices")
        yield KeysLine("pick")

    def on_mount(self) -> None:
        """Show the lines."""
        choices = self.query_one(PickList)
        choices.fill(self.rows)
        choices.focus()

    def action_pick(self, number: int) -> None:
        """Take the line with this number."""
        wanted = f"{number}  "
        for row in self.rows:
            if row.left == wanted:
                self.dismiss(row.id)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Take the marked line."""
        self.dismiss(self.rows[event.option_index].id)
