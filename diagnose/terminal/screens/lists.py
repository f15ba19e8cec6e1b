"""A list to pick from: the marked line shows by a sign and by reversal, never by colour alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.table import Table
from rich.text import Text
from textual.binding import Binding
from textual.widgets import OptionList
from textual.widgets.option_list import Option

MARK, NO_MARK = "> ", "  "
CHOOSING = (
    Binding("up", "choose('cursor_up')"),
    Binding("down", "choose('cursor_down')"),
    Binding("pageup", "choose('page_up')"),
    Binding("pagedown", "choose('page_down')"),
)
"""Keys that move the mark of a list while a field beside it keeps the typing."""


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a list.

    ``left`` stands before the text, which wraps beside it. ``words``: a person's own that the line
    is about, where they were not understood.
    """

    id: str
    text: str
    left: str = ""
    words: str = ""

    def drawn(self, *, marked: bool, in_use: bool) -> Table:
        """Return the line as it is drawn; it is reversed in the list that the keys go to."""
        grid = Table.grid(expand=True)
        grid.add_column(width=len(MARK) + len(self.left), no_wrap=True)
        grid.add_column(ratio=1)
        sign = MARK if marked else NO_MARK
        style = "bold reverse" if marked and in_use else "bold" if marked else ""
        grid.add_row(Text(f"{sign}{self.left}"), Text(self.text), style=style)
        return grid


class PickList(OptionList):
    """A list in which one line is marked; Up and Down move the mark, Enter takes the line."""

    def __init__(self, *, id: str) -> None:  # noqa: A002 - the name that Textual gives it
        super().__init__(id=id, markup=False)
        self.rows: list[Row] = []
        self._marked: int | None = None

    def fill(self, rows: Sequence[Row], at: int = 0) -> None:
        """Show these rows, with the mark on number ``at``."""
        self.rows = list(rows)
        at = max(0, min(at, len(rows) - 1))
        self._marked = at
        self.set_options(Option(self._drawn(number), id=row.id) for number, row in enumerate(rows))
        self.highlighted = at if rows else None
        self.refresh(layout=True)

    def marked(self) -> Row | None:
        """Return the marked row, or None in an empty list."""
        at = self.highlighted
        return None if at is None or at >= len(self.rows) else self.rows[at]

    def on_resize(self) -> None:
        """Keep the marked line in sight when what stands around the list grows or shrinks."""
        self.call_after_refresh(self.scroll_to_highlight)

    def _drawn(self, number: int) -> Table:
        return self.rows[number].drawn(marked=number == self._marked, in_use=self.has_focus)

    def _redraw(self, *numbers: int | None) -> None:
        for number in numbers:
            if number is not None and number < self.option_count == len(self.rows):
                self.replace_option_prompt_at_index(number, self._drawn(number))

    def watch_highlighted(self, highlighted: int | None) -> None:
        """Redraw the line that lost the mark and the one that has it."""
        before, self._marked = self._marked, highlighted
        self._redraw(*{before, highlighted})
        super().watch_highlighted(highlighted)

    def watch_has_focus(self, has_focus: bool) -> None:
        """Reverse the marked line while the keys go here."""
        super().watch_has_focus(has_focus)
        self._redraw(self._marked)
