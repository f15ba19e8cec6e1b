"""What it is: name, metal, process and ruling section; below them what goes with it, if wanted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.events import DescendantFocus
from textual.reactive import reactive
from textual.widget import Widget
from textual.widgets import Input, Static

from diagnose.reject.ticket import ENTRIES
from diagnose.reject.ticket import HINTS as OF_TICKET
from diagnose.terminal.screens.field import Field
from diagnose.terminal.screens.frame import Go, Step
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.lists import MARK, NO_MARK

HINTS = {
    "name": "The shop's own name or number for it, so that it can be found again.",
    "metal": "Left or Right for another metal.",
    "process": "Left or Right for another way of moulding.",
    "section": "The thickness that freezes last on the main body, such as 8 mm or 1/2 in. "
    "Leave it empty if you do not know. Down for what goes on the note: pattern, heat, how many.",
} | {name: f"For the note; may be left empty. {hint}" for name, hint in OF_TICKET.items()}
LABELS = {
    "name": "Name", "metal": "Metal", "process": "Moulded in", "section": "Ruling section",
} | ENTRIES  # fmt: skip


class Choice(Static, can_focus=True):
    """One of a few words, changed with Left and Right."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "turn(-1)"),
        Binding("right", "turn(1)"),
    ]
    value: reactive[str] = reactive("")

    def __init__(self, choices: Sequence[str], value: str, *, id: str) -> None:  # noqa: A002
        super().__init__(id=id, markup=False)
        self.choices = [*dict.fromkeys([*choices, *([value] if value else [])])]
        self.value = value

    def render(self) -> str:
        """Show the word between signs that say it can be changed."""
        return f"< {self.value} >"

    def action_turn(self, step: int) -> None:
        """Take the next word or the one before."""
        at = self.choices.index(self.value) if self.value in self.choices else -1
        self.value = self.choices[(at + step) % len(self.choices)]


class Form(VerticalScroll, can_focus=False, inherit_bindings=False):
    """The lines, scrolled to the one in use; Up and Down go from line to line."""


class About(Step):
    """Four lines that matter; Enter goes down them and on to the next step.

    Below them stand those of the ticket, reached with Down.
    """

    place = "about"
    BINDINGS = PLACES["about"].bindings()

    def body(self) -> Iterable[Widget]:
        """Lay out the lines."""
        book = self.session.book
        lines: dict[str, Widget] = {
            "name": Field(replace=True, id="name"),
            "metal": Choice([*book.metals], self._known("metal"), id="metal"),
            "process": Choice([*book.processes], self._known("process"), id="process"),
            "section": Field(hint="not known", id="section"),
        } | {name: Field(id=name) for name in ENTRIES}
        yield Form(
            Static("What is it?", classes="heading", markup=False),
            *(
                Horizontal(
                    Static(NO_MARK + LABELS[name], classes="label", id=f"{name}-label"),
                    line,
                    classes="ticket line" if name in ENTRIES else "line",
                )
                for name, line in lines.items()
            ),
            Static("", id="hint", markup=False),
            id="form",
        )

    def show(self) -> None:
        """Put what is known into the lines."""
        for name in LABELS:
            line = self.query_one(f"#{name}")
            if isinstance(line, Choice | Field):
                line.value = self._known(name)
        self.query_one("#name", Field).focus()

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        """Mark the line in use and say what goes there."""
        for name, label in LABELS.items():
            mark = MARK if event.widget.id == name else NO_MARK
            self.query_one(f"#{name}-label", Static).update(mark + label)
        self.query_one("#hint", Static).update(HINTS.get(event.widget.id or "", ""))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the line and go on."""
        event.stop()
        self.action_next_line()

    def action_line(self, step: int) -> None:
        """Take this line and go to another, unless something is wrong with it."""
        names = list(LABELS)
        at = names.index(self.focused.id) if self.focused and self.focused.id in names else 0
        if self._take(names[at]) and 0 <= at + step < len(names):
            self.query_one(f"#{names[at + step]}").focus()

    def action_next_line(self) -> None:
        """Take this line and go on: to the next, or behind section and last to the next step."""
        name = self.focused.id if self.focused is not None else ""
        if name in ("section", [*LABELS][-1]):
            if self._take(str(name)):
                self.post_message(Go("see"))
            return
        self.action_line(1)

    def leave(self) -> bool:
        """Take every line; one that is wrong keeps the step open."""
        return all(self._take(name) for name in LABELS)

    def _take(self, name: str) -> bool:
        """Tell the session what one line says; return whether it could be taken."""
        value = self._value(name)
        if value == self._known(name):
            return True
        if name == "name":
            wrong = self.bench.rename(value)
        else:
            wrong = self.bench.change(lambda: self.session.about(**{name: value}))
        self.say(wrong)
        return not wrong

    def _value(self, name: str) -> str:
        line = self.query_one(f"#{name}")
        return line.value if isinstance(line, Choice | Field) else ""

    def _known(self, name: str) -> str:
        reject = self.session.reject
        if name in ENTRIES:
            return reject.ticket.entry(name)
        if name == "section":
            return "" if reject.section is None else f"{reject.section:g} mm"
        return {"name": reject.name, "metal": reject.metal, "process": reject.process}[name]
