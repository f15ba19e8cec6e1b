"""A scrap batch: a list on each level, the marked line explained beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.screen import ModalScreen, Screen
from textual.widgets import OptionList, Static

from diagnose.basics.errors import Fault
from diagnose.basics.layout import Line, Section
from diagnose.batch.charts import control, trend
from diagnose.batch.charts.pareto import PATTERN
from diagnose.batch.levels import OPEN, Choice, choices, explained, titles
from diagnose.batch.limits import cannot_say, meaning
from diagnose.batch.minutes import minutes
from diagnose.batch.result import Cause
from diagnose.batch.told import details, headline
from diagnose.batch.walk import CASTING, FAULTS, LEVELS, WHERE, Opened, Walk
from diagnose.notes.wording import first_sentence, one_line
from diagnose.terminal.screens.agree import Agree, Agreed, Draft
from diagnose.terminal.screens.frame import KeysLine
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.lists import PickList, Row
from diagnose.terminal.screens.overpage import OverPage
from diagnose.terminal.screens.pages import EDGES, Page
from diagnose.terminal.screens.window import Window

Made = TypeVar("Made")
TOP = "This is the top. q leaves; what was agreed is kept."


class Walking(Screen[None]):
    """Where the meeting stands: the level's lines, and the marked one explained."""

    place = "batch"
    BINDINGS = PLACES["batch"].bindings()

    def __init__(self, walk: Walk, message: str = "") -> None:
        super().__init__()
        self.walk = walk
        self.message = message
        self.lines: list[Choice] = []

    def compose(self) -> ComposeResult:
        """Lay the screen out from top to bottom."""
        with Horizontal(id="top"):
            yield Static("", id="steps", markup=False)
            yield Static(one_line(self.walk.batch.source), id="sheet", markup=False)
        yield Static("", id="headline", markup=False)
        with Horizontal(id="halves"):
            yield PickList(id="lines")
            yield Page(id="explained")
        yield Static("", id="message", markup=False)
        yield KeysLine("batch")

    def on_mount(self) -> None:
        """Show the level."""
        self.query_one("#lines").focus()
        self.show()
        self.say(self.message)

    def on_resize(self) -> None:
        """Draw anew to the width there is."""
        self.call_after_refresh(self.show)

    def show(self) -> None:
        """Show the level the walk stands on."""
        walk = self.walk
        self.query_one("#steps", Static).update(_steps(walk.level))
        self.query_one("#headline", Static).update(self._headline())
        lines = self.query_one("#lines", PickList)
        self.lines = choices(walk, max(24, lines.content_size.width - 7))
        lines.fill(
            [
                Row(str(at), one.text, f"{at + 1}  " if at < 9 else "   ")
                for at, one in enumerate(self.lines)
            ],
            at=walk.marks.get(walk.level, 0),
        )
        self._explain()

    def _headline(self) -> Content:
        walk = self.walk
        if walk.level != FAULTS:
            return Content.styled(walk.trail(), "bold")
        told = headline(walk.batch)
        told = [told[0], *reversed(told[1:])]  # the cause first: it is what is missed soonest
        room = 4 if self.app.size.height >= 24 else 2
        first = Content.styled(told[0], "bold")
        order = f"By {walk.by}." if walk.by != "count" else ""
        rest = [Content(text) for text in (order, *told[1:]) if text]
        return Content("\n").join([first, *rest[: room - 1]])

    def _marked(self) -> Choice | None:
        at = self.query_one("#lines", PickList).highlighted
        return self.lines[at] if at is not None and at < len(self.lines) else None

    def _explain(self) -> None:
        page = self.query_one("#explained", Page)
        choice = self._marked()
        if choice is None:
            page.fill([Section("Nothing", (Line("No row of the sheet was used."),))])
            return
        width = max(24, page.scrollable_content_region.width)
        page.fill(explained(self.walk, choice, width))

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Explain the line that is now marked."""
        self.walk.marks[self.walk.level] = event.option_index
        self._explain()

    def on_option_list_option_selected(self) -> None:
        """Go down into the marked line."""
        self._down(self._marked())

    def action_enter(self) -> None:
        """Go down into the marked line, also while the keys go to what explains it."""
        self._down(self._marked())

    def action_other_part(self) -> None:
        """Go between the list and what explains the marked line."""
        other = "#explained" if self.query_one("#lines").has_focus else "#lines"
        self.query_one(other).focus()

    def action_down(self, number: int) -> None:
        """Go down into the line with this number."""
        if number <= len(self.lines):
            self.walk.marks[self.walk.level] = number - 1
            self._down(self.lines[number - 1])

    def _down(self, choice: Choice | None) -> None:
        walk = self.walk
        if choice is None:
            return
        if walk.level == CASTING:
            (self.action_open if choice.id == OPEN else self.action_agree)()
            return
        if walk.level == FAULTS and walk.by == PATTERN:
            self.say("Order by count with b, and go down into a fault.")
            return
        if walk.level == FAULTS:
            walk.defect = choice.id
        elif isinstance(choice.what, Cause):
            walk.cause = choice.what
        elif walk.level == WHERE:
            walk.spot = choice.what
        walk.down()
        self.query_one("#lines").focus()
        self.say("")
        self.show()

    def up(self) -> None:
        """Go one level up."""
        self.say("" if self.walk.up() else TOP)
        self.show()

    def say(self, message: str) -> None:
        """Show one message above the keys."""
        line = self.query_one("#message", Static)
        line.update(message)
        line.display = bool(message)

    def _tried(self, how: Callable[[], Made]) -> Made | None:
        """Do something; what is wrong with it becomes the message."""
        try:
            return how()
        except Fault as fault:
            self.say(str(fault))
        except OSError as error:
            self.say(f"This could not be written: {error.strerror or error}.")
        return None

    def action_by(self) -> None:
        """Order the faults in another way."""
        if self.walk.level != FAULTS:
            self.say("Faults are ordered at the top: go up with Esc.")
            return
        self.walk.marks.pop(FAULTS, None)
        self.say(f"By {self.walk.other_order()}.")
        self.show()

    def action_trend(self) -> None:
        """Show all charts, those of the fault first."""
        self.app.push_screen(OverPage(self._charts()))

    def _charts(self) -> Sequence[Section]:
        batch, width = self.walk.batch, self.app.size.width - EDGES
        charts = sorted(batch.charts, key=lambda one: one.defect != self.walk.defect)
        glance = trend.in_characters(
            [one for one in charts if one.kind != control.SMOOTHED], width=width
        )
        if not glance:
            return [Section("Charts", (Line("There are too few dates for a chart."),))]
        return [
            Section("At a glance", tuple(Line(row, drawn=True) for row in glance)),
            *(
                Section(
                    f"Control chart of {chart.name}",
                    (
                        Line(control.about(chart)),
                        *(Line(text) for text in control.said(chart, batch.changes)),
                        *(
                            Line(row, drawn=True)
                            for row in control.in_characters(chart, batch.changes, width=width)
                        ),
                    ),
                )
                for chart in charts
                if chart.kind != control.SMOOTHED or control.signals(chart)
            ),
        ]

    def action_details(self) -> None:
        """Show how the sheet was read, and what the figures mean and cannot say."""
        batch = self.walk.batch
        told = [*meaning(batch), *cannot_say(batch)]
        limits = Section("What this means, and what it cannot say", tuple(map(Line, told)))
        self.app.push_screen(OverPage([*details(batch), limits]))

    def action_agree(self) -> None:
        """Ask for an action on what the walk stands at."""

        def keep(draft: Draft | None) -> None:
            if draft is not None:
                self._tried(lambda: self._agree(draft))

        text = self.walk.cause.action if self.walk.cause is not None else ""
        marked = self._marked()
        if not text and marked is not None and isinstance(marked.what, Cause):
            text = marked.what.action
        self.app.push_screen(Agree(first_sentence(text), self.walk.today), keep)

    def _agree(self, draft: Draft) -> None:
        marked = self._marked()
        cause = marked.what.id if marked is not None and isinstance(marked.what, Cause) else ""
        defect = marked.id if marked is not None and self.walk.level == FAULTS else ""
        self.walk.agree(draft.text, draft.owner, draft.due, defect=defect, cause=cause)
        self.say(f"Agreed, and kept in {self.walk.beside}.")

    def action_agreed(self) -> None:
        """Show the actions agreed."""
        self.app.push_screen(Agreed(self.walk))

    def action_minutes(self) -> None:
        """Write the minutes and show them."""
        path = self._tried(self.walk.write_minutes)
        if path is not None:
            where = Section("Written", (Line(str(path)),))
            told = minutes(self.walk.batch, self.walk.actions, self.walk.today)
            self.app.push_screen(OverPage([*told, where]))

    def action_pack(self) -> None:
        """Write the pack and say where it is; printing it takes a few seconds."""
        self.say("The pack is being written. One moment.")
        self.call_after_refresh(self._write_pack)

    def _write_pack(self) -> None:
        written = self._tried(self.walk.write_pack)
        if written is not None:
            told = [f"{len(written.paths)} files are in {self.walk.folder}.", *written.lacking]
            self.say("\n".join(told))

    def action_open(self) -> None:
        """Leave the batch for one casting of it, with what the sheet knows filled in."""
        marked = self._marked()
        defect = marked.id if marked is not None and self.walk.level == FAULTS else ""
        if self.walk.level == FAULTS and self.walk.by == PATTERN:
            self.say("Order by count with b, and open a casting of a fault.")
            return
        self.app.exit(self.walk.opened(defect))


class BatchApp(Window[Opened]):
    """Walks a meeting through a batch; gives the casting that is to be opened, if any."""

    def __init__(self, walk: Walk, *, colour: bool = True) -> None:
        super().__init__(colour=colour)
        self.walk = walk

    def on_mount(self) -> None:
        """Begin at the faults, or where the meeting stood before."""
        message = ""
        try:
            self.walk.begin()
        except Fault as fault:
            message = str(fault)
        self.push_screen(Walking(self.walk, message))

    def action_one_back(self) -> None:
        """Close what is open, or go one level up."""
        here = self.screen
        if isinstance(here, ModalScreen):
            here.dismiss(None)
        elif isinstance(here, Walking):
            here.up()

    def action_leave(self) -> None:
        """Leave; what was agreed is kept already."""
        self.exit()

    async def action_quit(self) -> None:
        """Leave as every other way of leaving does."""
        self.action_leave()


def _steps(level: str) -> Content:
    parts = []
    for each in LEVELS:
        text = titles()[each]
        here = each == level
        parts.append(Content.styled(f"[{text}]", "bold") if here else Content(f" {text} "))
    return Content(">").join(parts)


def run_batch(walk: Walk) -> Opened | None:
    """Walk a meeting through a batch on the whole screen; return the casting to open, if any."""
    import os

    return BatchApp(walk, colour="NO_COLOR" not in os.environ).run(mouse=False)
