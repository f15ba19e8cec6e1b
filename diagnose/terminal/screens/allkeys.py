"""All keys of the screen it was opened from, then of every other."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen

from diagnose.basics.layout import Line, Section
from diagnose.terminal.screens.frame import KeysLine
from diagnose.terminal.screens.keys import AT_WORK, CTRL_C, MOVING, PLACES, Key
from diagnose.terminal.screens.pages import Page


def key_lines(keys: tuple[Key, ...]) -> tuple[Line, ...]:
    """Return one line for each key."""
    return tuple(Line(key.does, f"{key.both():<12}") for key in keys)


def key_sections(first: str) -> list[Section]:
    """Return the keys of the screen ``first``, then those of all steps, then the other screens'."""
    shared = {*AT_WORK, *MOVING}
    own = {
        name: tuple(key for key in place.keys if key not in shared)
        for name, place in PLACES.items()
    }
    sections = [Section(f"Here: {PLACES[first].title}", key_lines(own[first]))]
    sections.append(Section("At every step", key_lines((*AT_WORK, CTRL_C))))
    sections.append(Section("In a list or a long text", key_lines(MOVING)))
    sections += [
        Section(PLACES[name].title, key_lines(keys))
        for name, keys in own.items()
        if name != first and keys
    ]
    return [section for section in sections if section.lines]


class AllKeys(ModalScreen[None]):
    """The list of all keys, drawn from the keys themselves."""

    BINDINGS = PLACES["keys"].bindings()

    def __init__(self, first: str) -> None:
        super().__init__()
        self.first = first

    def compose(self) -> ComposeResult:
        """Lay the page out."""
        with Vertical(id="pane", classes="tall"):
            yield Page(id="page")
        yield KeysLine("keys")

    def on_mount(self) -> None:
        """Fill the page."""
        page = self.query_one(Page)
        page.fill(key_sections(self.first))
        page.focus()
