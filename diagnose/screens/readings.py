"""The readings: every measurement of the book, its window, and where a reading stands."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widget import Widget
from textual.widgets import Input, Static

from diagnose.evidence import Reading
from diagnose.notes.wording import readings as values_with_unit
from diagnose.screens.field import Field
from diagnose.screens.frame import Step
from diagnose.screens.keys import PLACES
from diagnose.screens.lists import PickList, Row
from diagnose.screens.sheet import take_sheet
from diagnose.wording import aim, name_and_value, stand

ASKS = "Mark a reading with Up or Down and type its value; or type name and value."


class Readings(Step):
    """The list over a field; Up and Down choose while the field takes the value."""

    place = "readings"
    BINDINGS: ClassVar[list[BindingType]] = [
        *PLACES["readings"].bindings(),
        Binding("up", "choose('cursor_up')"),
        Binding("down", "choose('cursor_down')"),
        Binding("pageup", "choose('page_up')"),
        Binding("pagedown", "choose('page_down')"),
    ]

    def body(self) -> Iterable[Widget]:
        """Lay out the list, what is known of the marked reading, and the field."""
        yield Vertical(
            Static(ASKS, classes="heading", markup=False),
            PickList(id="measurements"),
            Static("", id="about-reading", markup=False),
            Field(self.bench.drafts.get("readings", ""), id="value"),
            id="measuring",
        )

    def show(self) -> None:
        """Show every measurement, with its reading if there is one."""
        measurements = self.query_one("#measurements", PickList)
        measurements.fill(self._rows(), at=measurements.highlighted or 0)
        self._show_marked()
        if not measurements.has_focus:
            self.query_one("#value", Field).focus()

    def _rows(self) -> list[Row]:
        taken = {reading.id: reading for reading in self.session.readings()}
        names = [entry.name for entry in self.session.book.measurements.values()]
        width = min(max(map(len, names), default=0) + 2, self.app.size.width - 34)
        rows = []
        for name, entry in self.session.book.measurements.items():
            if name not in self.session.desk.findings:
                continue
            reading = taken.get(name)
            if len(entry.name) + 2 > width:
                rows.append(Row(name, f"{entry.name}  {told(reading) if reading else '-'}"))
            else:
                rows.append(Row(name, told(reading) if reading else "-", entry.name.ljust(width)))
        return rows

    def _show_marked(self) -> None:
        row = self.query_one("#measurements", PickList).marked()
        if row is None:
            return
        entry = self.session.book.measurements[row.id]
        field = self.query_one("#value", Field)
        field.placeholder = f"{entry.name}, in {entry.unit}"
        known = {reading.id: reading for reading in self.session.readings()}
        held = self.session.desk.window(entry)
        low, high = (held.low, held.high) if held else (None, None)
        lines = [f"{entry.name}: window {aim(held, entry.unit)}"]
        if reading := known.get(row.id):
            at = sum(reading.values) / len(reading.values)
            lines.append(f"{stand(at, low, high)}  {told(reading)}")
            if reading.speaks_for:
                lines.append(f"Speaks for: {'; '.join(reading.speaks_for)}")
        else:
            lines.append(entry.how)
        self.query_one("#about-reading", Static).update("\n".join(lines))

    def on_option_list_option_highlighted(self) -> None:
        """Tell about the marked measurement."""
        self._show_marked()

    def on_option_list_option_selected(self) -> None:
        """Go from the list to the field."""
        self.query_one("#value", Field).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the reading for the marked measurement or the one named before it, or a table."""
        word, _, file = event.value.strip().partition(" ")
        if word.lower() == "sheet" and file:
            take_sheet(self, file.strip())
            return
        measurements = self.query_one("#measurements", PickList)
        row = measurements.marked()
        name, value = name_and_value(event.value)
        entry = name or (row.id if row else "")
        taken: list[Reading] = []
        wrong = self.bench.change(lambda: taken.append(self.session.measure(entry, value)))
        self.say(wrong)
        if wrong:
            return
        event.input.value = ""
        ids = [one.id for one in measurements.rows]
        measurements.highlighted = ids.index(taken[0].id)
        self.show()

    def action_choose(self, way: str) -> None:
        """Move the mark while the field keeps the typing."""
        measurements = self.query_one("#measurements", PickList)
        getattr(measurements, f"action_{way}")()

    def action_strike(self) -> None:
        """Take the marked reading back."""
        row = self.query_one("#measurements", PickList).marked()
        if row is not None:
            self.say(self.bench.change(lambda: self.session.take_back(row.id)))
            self.show()

    def action_other_part(self) -> None:
        """Go between the field and the list."""
        measurements = self.query_one("#measurements", PickList)
        (self.query_one("#value", Field) if measurements.has_focus else measurements).focus()

    def leave(self) -> bool:
        """Keep a reading that is typed but not yet taken."""
        self.bench.drafts["readings"] = self.query_one("#value", Field).value
        return True


def told(reading: Reading) -> str:
    """Return a reading with how it stands."""
    return f"{values_with_unit(reading.values, reading.unit)}, {reading.words}"
