"""All that was said about the reject; any of it can be taken back or answered anew."""

from __future__ import annotations

from collections.abc import Iterable

from textual.containers import Vertical
from textual.widget import Widget
from textual.widgets import OptionList, Static

from diagnose.notes.figures_in_words import quoted
from diagnose.reasoning.reasons import found_text
from diagnose.reject.found import CALLED
from diagnose.terminal.screens.frame import Go, Step
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.lists import PickList, Row


class Said(Step):
    """The list of findings in the order in which they came."""

    place = "said"
    BINDINGS = PLACES["said"].bindings()

    def body(self) -> Iterable[Widget]:
        """Lay out the list."""
        yield Vertical(
            Static("", id="said-heading", classes="heading", markup=False),
            PickList(id="said"),
            id="saying",
        )

    def show(self) -> None:
        """Show everything that was said."""
        reject, desk = self.session.reject, self.session.desk
        rows = [
            Row(
                found.id,
                f"{found_text(desk, found)}   {quoted(found.said)}".rstrip(),
                f"{n:>2}  ",
            )
            for n, found in enumerate(reject.findings, 1)
        ]
        rows += [
            Row(f"words {n}", f"not known: {quoted(words)}", f"{n + len(rows) + 1:>2}  ", words)
            for n, words in enumerate(reject.not_understood)
        ]
        said = self.query_one("#said", PickList)
        said.fill(rows, at=said.highlighted or 0)
        said.focus()
        told = "All that was said, in the order it came:" if rows else "Nothing was said yet."
        self.query_one("#said-heading", Static).update(told)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Put the question of the marked line again."""
        found = self.session.reject.finding(event.option_id or "")
        if found is None or found.kind == CALLED:
            self.post_message(Go("see"))
        else:
            self.post_message(Go("ask", found.id))

    def action_strike(self) -> None:
        """Take the marked line back."""
        row = self.query_one("#said", PickList).marked()
        if row is None:
            return
        self.say(self.bench.strike(row.id, row.words))
        self.show()
