"""The readings: every measurement of the book, its window, and where a reading stands."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.containers import Vertical
from textual.widget import Widget
from textual.widgets import Input, Static

from diagnose.notes.figures_in_words import aim, name_and_value, reading_in_words, stand
from diagnose.reasoning.readings import Reading
from diagnose.terminal.screens.field import Field
from diagnose.terminal.screens.frame import Step
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.lists import CHOOSING, PickList, Row
from diagnose.terminal.screens.sheet import take_sheet

ASKS = "Mark a reading with Up or Down and type its value; or type name and value."


class Readings(Step):
    """The list over a field; Up and Down choose while the field takes the value."""

    place = "readings"
    BINDINGS: ClassVar[list[BindingType]] = [
        *PLACES["readings"].bindings(),
        *CHOOSING,
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
        """Show every measurement, those with a reading first."""
        measurements = self.query_one("#measurements", PickList)
        measurements.fill(self._rows(), at=measurements.highlighted or 0)
        self._show_marked()
        if not measurements.has_focus:
            self.query_one("#value", Field).focus()

    def _rows(self) -> list[Row]:
        known = {reading.id: reading for reading in self.session.readings()}
        book = self.session.book
        told_by = {
            *self.session.desk.findings,
            *self.session.desk.looks,
            *known,
            *book.taken_by_sums(),
        }
        entries = {name: book.measurements[name] for name in book.measurements if name in told_by}
        names = [entry.name for entry in entries.values()]
        width = min(max(map(len, names), default=0) + 2, self.app.size.width - 34)
        rows = []
        for name in sorted(entries, key=lambda name: name not in known):
            entry = entries[name]
            text = reading_in_words(known[name]) if name in known else "-"
            if len(entry.name) + 2 > width:
                rows.append(Row(name, f"{entry.name}  {text}"))
            else:
                rows.append(Row(name, text, entry.name.ljust(width)))
        return rows

    def _show_marked(self) -> None:
        row = self.query_one("#measurements", PickList).marked()
        if row is None:
            return
        entry = self.session.book.measurements[row.id]
        field = self.query_one("#value", Field)
        field.placeholder = f"{entry.name}, in {entry.unit}"
        held = self.session.desk.window(entry)
        lines = [f"{entry.name}: window {aim(held, entry.unit)}"]
        if reading := self._known(row.id):
            low, high = (held.low, held.high) if held else (None, None)
            at = sum(reading.values) / len(reading.values)
            lines.append(f"{stand(at, low, high)}  {reading_in_words(reading)}")
            if reading.working:
                lines.append(f"Worked out: {' '.join(reading.working)}")
            if reading.speaks_for:
                lines.append(f"Speaks for: {'; '.join(reading.speaks_for)}")
        else:
            lines.append(entry.how)
        self.query_one("#about-reading", Static).update("\n".join(lines))

    def _known(self, name: str) -> Reading | None:
        return next((one for one in self.session.readings() if one.id == name), None)

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
        wrong, taken = self.bench.made(lambda: self.session.measure(entry, value))
        self.say(wrong)
        if taken is None:
            return
        event.input.value = ""
        rows = self._rows()
        measurements.fill(rows, at=[one.id for one in rows].index(taken.id))
        self.show()

    def action_choose(self, way: str) -> None:
        """Move the mark while the field keeps the typing."""
        measurements = self.query_one("#measurements", PickList)
        getattr(measurements, f"action_{way}")()

    def action_strike(self) -> None:
        """Take the marked reading back."""
        row = self.query_one("#measurements", PickList).marked()
        reading = self._known(row.id) if row else None
        if reading and reading.working:
            self.say("It follows from other readings. Strike one of those out.")
        elif row is not None:
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
