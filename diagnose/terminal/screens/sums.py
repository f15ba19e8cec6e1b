"""The sums of the foundry: one is chosen by typing part of its name."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.containers import Vertical
from textual.widget import Widget
from textual.widgets import Static

from diagnose.shop.work import matching, named
from diagnose.shop.workings import in_unit
from diagnose.terminal.screens.field import Field
from diagnose.terminal.screens.figures import Figures
from diagnose.terminal.screens.frame import Step
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.lists import CHOOSING, PickList, Row

ASKS = "Which sum? Type part of its name, or mark it with Up or Down; then Enter."
NONE_SUCH = "No sum is called that. Type less of it, or another word for it."


class Sums(Step):
    """A field over the list of sums; what is typed leaves those that it is part of."""

    place = "sums"
    BINDINGS: ClassVar[list[BindingType]] = [
        *PLACES["sums"].bindings(),
        *CHOOSING,
    ]

    def body(self) -> Iterable[Widget]:
        """Lay out the field and the list."""
        yield Vertical(
            Static(ASKS, classes="heading", markup=False),
            Field(self.bench.drafts.get("sums", ""), replace=True, id="wanted"),
            PickList(id="sums"),
            id="choosing",
        )

    def show(self) -> None:
        """Show the sums that what is typed may mean."""
        sums = self.query_one("#sums", PickList)
        found = matching(self.query_one("#wanted", Field).value)
        sums.fill([Row(each.name, in_unit(each.title, each.unit)) for each in found])
        self.say("" if found else NONE_SUCH)
        if not sums.has_focus:
            self.query_one("#wanted", Field).focus()

    def on_input_changed(self) -> None:
        """Keep to the sums that what is typed may mean."""
        self.show()

    def on_input_submitted(self) -> None:
        """Take the marked sum."""
        self._take()

    def on_option_list_option_selected(self) -> None:
        """Take the marked sum."""
        self._take()

    def _take(self) -> None:
        row = self.query_one("#sums", PickList).marked()
        if row is not None:
            self.app.push_screen(Figures(self.bench, named(row.id)))

    def action_choose(self, way: str) -> None:
        """Move the mark while the field keeps the typing."""
        getattr(self.query_one("#sums", PickList), f"action_{way}")()

    def action_other_part(self) -> None:
        """Go between the field and the list."""
        sums = self.query_one("#sums", PickList)
        (self.query_one("#wanted", Field) if sums.has_focus else sums).focus()

    def leave(self) -> bool:
        """Keep what was typed to find a sum."""
        self.bench.drafts["sums"] = self.query_one("#wanted", Field).value
        return True
