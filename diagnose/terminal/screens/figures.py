"""The figures of a sum, typed one by one; what the readings give stands there already."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from diagnose.basics.errors import Fault
from diagnose.notes.wording import either
from diagnose.session.autosave import Bench
from diagnose.session.sum_inputs import offered
from diagnose.shop.calculation import Calculation, Input
from diagnose.shop.work import default_of, form, value_of, with_unit, work
from diagnose.shop.workings import working
from diagnose.terminal.screens.field import Field
from diagnose.terminal.screens.frame import KeysLine
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.lists import PickList, Row
from diagnose.terminal.screens.overpage import OverPage


class Figures(ModalScreen[None]):
    """Goes down the inputs of a sum and works it after the last; keeps what was typed."""

    BINDINGS: ClassVar[list[BindingType]] = PLACES["figures"].bindings()

    def __init__(self, bench: Bench, calculation: Calculation) -> None:
        super().__init__()
        self.bench = bench
        self.calculation = calculation
        self.from_readings = offered(bench.session, calculation)
        self.at = 0

    def compose(self) -> ComposeResult:
        """Lay out the inputs, the field, and what is known of the input in hand."""
        with Vertical(id="pane", classes="tall"):
            yield Static(self.calculation.title, classes="heading", markup=False)
            yield PickList(id="figures")
            yield Field(replace=True, id="figure")
            yield Static("", id="about-figure", markup=False)
            yield Static("", id="fault", markup=False)
        yield KeysLine("figures")

    def on_mount(self) -> None:
        """Begin with the first input."""
        self.query_one("#figures", PickList).can_focus = False
        self._go_to(0)

    @property
    def wanted(self) -> Input:
        """The input in hand."""
        return self.calculation.inputs[self.at]

    def _text(self, wanted: Input) -> str:
        """Return what was typed for an input, or what the readings give for it."""
        typed = self.bench.figures.get((self.calculation.name, wanted.name))
        return self.from_readings.get(wanted.name, "") if typed is None else typed

    def _go_to(self, at: int) -> None:
        self.at = at
        inputs = self.calculation.inputs
        width = max(len(each.words) for each in inputs) + 2
        rows = [Row(each.name, self._shown(each), each.words.ljust(width)) for each in inputs]
        self.query_one("#figures", PickList).fill(rows, at=at)
        field = self.query_one("#figure", Field)
        field.value = self._text(self.wanted)
        field.placeholder = hint(self.wanted)
        field.focus()
        field.action_select_all()
        told = f"{self.wanted.words}: {self.wanted.what}, {self.wanted.range}"
        self.query_one("#about-figure", Static).update(told)
        self.query_one("#fault", Static).update("")

    def _shown(self, wanted: Input) -> str:
        if text := self._text(wanted):
            taken_over = text == self.from_readings.get(wanted.name)
            return f"{text}  (from the readings)" if taken_over else text
        return "-" if wanted.default is None else f"({default_of(wanted)}, if nothing is typed)"

    def _take(self) -> bool:
        """Take what is typed for the input in hand; return whether it can be taken."""
        text = with_unit(self.wanted, self.query_one("#figure", Field).value)
        try:
            if text:
                value_of(self.wanted, text)
        except Fault as fault:
            self.query_one("#fault", Static).update(str(fault))
            return False
        self.bench.figures[self.calculation.name, self.wanted.name] = text
        return True

    def on_input_submitted(self) -> None:
        """Take the figure and go on; after the last, work the sum."""
        if not self._take():
            return
        if self.at + 1 < len(self.calculation.inputs):
            self._go_to(self.at + 1)
        else:
            self._work()

    def action_figure(self, step: int) -> None:
        """Take the figure and go to another input."""
        if self._take() and 0 <= self.at + step < len(self.calculation.inputs):
            self._go_to(self.at + step)

    def _work(self) -> None:
        texts = {each.name: self._text(each) for each in self.calculation.inputs}
        inputs = {each.name: each for each in self.calculation.inputs}
        given = {name: value_of(inputs[name], text) for name, text in texts.items() if text}
        self._go_to(self.at)
        try:
            worked = work(self.calculation, given)
        except Fault as fault:
            self.query_one("#fault", Static).update(str(fault))
            return
        self.app.push_screen(OverPage([working(self.calculation, given, worked)]))


def hint(wanted: Input) -> str:
    """Return what stands in the field while nothing is typed.

    >>> hint(Input("height", "height", "mm")), hint(Input("way", "", "", choices=("net", "gross")))
    ('in mm', 'net or gross')
    """
    if wanted.choices:
        return either(wanted.choices)
    if wanted.table:
        return form(wanted).partition("=")[2].strip('"')
    return f"in {wanted.unit}" if wanted.unit else "a number"
