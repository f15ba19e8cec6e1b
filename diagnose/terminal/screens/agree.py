"""An action agreed by a meeting: what, who, by when; and the list of those agreed."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.events import DescendantFocus
from textual.screen import ModalScreen
from textual.widgets import Static

from diagnose.basics.errors import Fault
from diagnose.batch.minutes import NOBODY, by
from diagnose.batch.walk import Walk
from diagnose.notes.wording import one_line, sentence
from diagnose.sheets.dates import moment_of
from diagnose.terminal.screens.field import Field
from diagnose.terminal.screens.frame import KeysLine
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.lists import MARK, NO_MARK, PickList, Row

LABELS = {"text": "What", "owner": "Who", "due": "By when"}
HINTS = {
    "text": "One thing that somebody will do.",
    "owner": "Who does it, by name. Empty: nobody yet.",
    "due": "A day, such as 2026-04-03; a number alone is days from today. Empty: no date.",
}
_DAYS = re.compile(r"\+?\s*(\d{1,3})(?:\s*d(?:ays?)?)?")


@dataclass(frozen=True, slots=True)
class Draft:
    """An action as it was typed."""

    text: str
    owner: str
    due: date | None


class Agree(ModalScreen[Draft | None]):
    """Three lines; Enter goes down them and keeps the action after the last."""

    BINDINGS = PLACES["agree"].bindings()

    def __init__(self, text: str, today: date) -> None:
        super().__init__()
        self.text = text
        self.today = today

    def compose(self) -> ComposeResult:
        """Lay the lines out."""
        with Vertical(id="pane"):
            yield Static("An action", classes="heading", markup=False)
            with Vertical(id="form"):
                for name, label in LABELS.items():
                    with Horizontal(classes="line"):
                        yield Static(NO_MARK + label, classes="label", id=f"{name}-label")
                        yield Field(self.text if name == "text" else "", id=name)
            yield Static("", id="hint", markup=False)
            yield Static("", id="fault", markup=False)
        yield KeysLine("agree")

    def on_mount(self) -> None:
        """Be ready for typing."""
        self.query_one("#text").focus()

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        """Mark the line in use and say what goes there."""
        for name, label in LABELS.items():
            mark = MARK if event.widget.id == name else NO_MARK
            self.query_one(f"#{name}-label", Static).update(mark + label)
        self.query_one("#hint", Static).update(HINTS.get(event.widget.id or "", ""))

    def on_input_submitted(self) -> None:
        """Take the line and go on."""
        self.action_next_line()

    def action_line(self, step: int) -> None:
        """Go to another line."""
        names = list(LABELS)
        at = names.index(self.focused.id) if self.focused and self.focused.id in names else 0
        if 0 <= at + step < len(names):
            self.query_one(f"#{names[at + step]}").focus()

    def action_next_line(self) -> None:
        """Go to the next line; after the last, keep the action."""
        if self.focused is not None and self.focused.id != "due":
            self.action_line(1)
            return
        text, owner, due = (self.query_one(f"#{name}", Field).value.strip() for name in LABELS)
        try:
            if not text:
                raise Fault("Say what is to be done.")
            self.dismiss(Draft(text, owner, day_of(due, self.today)))
        except Fault as fault:
            self.query_one("#fault", Static).update(str(fault))


def day_of(text: str, today: date) -> date | None:
    """Return the day that was typed, a number alone being days from today.

    >>> str(day_of("14", date(2026, 4, 1))), day_of("", date(2026, 4, 1))
    ('2026-04-15', None)
    """
    if not text.strip():
        return None
    if found := _DAYS.fullmatch(text.strip()):
        return today + timedelta(days=int(found[1]))
    return moment_of(text, "by when").day


class Agreed(ModalScreen[None]):
    """The actions agreed, in the order in which they were."""

    BINDINGS = PLACES["agreed"].bindings()

    def __init__(self, walk: Walk) -> None:
        super().__init__()
        self.walk = walk

    def compose(self) -> ComposeResult:
        """Lay the list out."""
        with Vertical(id="pane"):
            yield Static("Actions agreed", classes="heading", markup=False)
            yield PickList(id="choices")
            yield Static("", id="fault", markup=False)
        yield KeysLine("agreed")

    def on_mount(self) -> None:
        """Show the actions."""
        self._show(0)
        self.query_one(PickList).focus()

    def _show(self, at: int) -> None:
        rows = [
            Row(str(number), f"{one_line(one.owner) or NOBODY}, {by(one, self.walk.today)}: "
                f"{sentence(one.text)}", f"{number + 1}  ")
            for number, one in enumerate(self.walk.actions)
        ]  # fmt: skip
        self.query_one(PickList).fill(rows, at=at)
        if not rows:
            self.query_one("#fault", Static).update("No action was agreed yet.")

    def action_strike(self) -> None:
        """Strike the marked action out."""
        at = self.query_one(PickList).highlighted
        if at is None or at >= len(self.walk.actions):
            return
        try:
            self.walk.strike(at)
        except Fault as fault:
            self.query_one("#fault", Static).update(str(fault))
            return
        self._show(min(at, len(self.walk.actions) - 1))
