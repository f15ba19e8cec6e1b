"""What every step has: the steps at the top, a line for messages and the keys at the bottom."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from diagnose.notes.wording import one_line
from diagnose.terminal.screens.field import MOST
from diagnose.terminal.screens.keys import PLACES

if TYPE_CHECKING:
    from diagnose.session.autosave import Bench

STEP_NAMES = (
    ("F2", "about", "Job"),
    ("F3", "see", "Seen"),
    ("F4", "ask", "Ask"),
    ("F5", "readings", "Readings"),
    ("F6", "verdict", "Verdict"),
    ("F7", "note", "Note"),
)


@dataclass
class Go(Message):
    """Asks the app for another step; ``entry``: the question to put there, if a certain one."""

    place: str
    entry: str = ""


def steps_line(place: str) -> Content:
    """Return the line of steps, the present one in brackets."""
    parts = []
    for key, step, name in STEP_NAMES:
        text = f"{key} {name}"
        parts.append(Content.styled(f"[{text}]", "bold") if step == place else Content(f" {text} "))
    return Content("").join(parts)


def keys_line(place: str) -> Content:
    """Return the bottom line of a screen: its most wanted keys."""
    parts = [
        Content.assemble((shown, "bold"), f" {label}") for shown, label in PLACES[place].bottom()
    ]
    return Content("  ").join(parts)


class KeysLine(Static):
    """The bottom line."""

    def __init__(self, place: str) -> None:
        super().__init__(keys_line(place), id="keys", markup=False)


class Step(Screen[None]):
    """One step of the work on a reject."""

    place: ClassVar[str]

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.session = bench.session

    def compose(self) -> ComposeResult:
        """Lay the screen out from top to bottom."""
        with Horizontal(id="top"):
            yield Static(steps_line(self.place), id="steps", markup=False)
            yield Static(one_line(self.session.reject.name), id="reject", markup=False)
        yield from self.body()
        yield Static("", id="message", markup=False)
        yield KeysLine(self.place)

    def body(self) -> Iterable[Widget]:
        """Return what stands between the steps and the messages."""
        return ()

    def on_mount(self) -> None:
        """Show what there is to show."""
        self.say("")
        self.show()

    def on_field_full(self) -> None:
        """Say that what was pasted is not all there."""
        self.say(f"Only {MOST} letters go in at once. Paste the rest after it.")

    def show(self) -> None:
        """Fill the screen from the session; called again after every change."""

    def again(self) -> None:
        """Show the step anew after a change made from outside it."""
        self.show()

    def leave(self) -> bool:
        """Put away what was typed; return whether the step may be left."""
        return True

    def say(self, message: str) -> None:
        """Show one message above the keys; trouble with keeping the reject stands before it."""
        both = "\n".join(
            text for text in (self.bench.trouble, self.bench.take_news(), message) if text
        )
        line = self.query_one("#message", Static)
        line.update(both)
        line.display = bool(both)
