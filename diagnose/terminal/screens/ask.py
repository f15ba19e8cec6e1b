"""The questions, one at a time, with the likely causes beside them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widget import Widget
from textual.widgets import OptionList, Static

from diagnose.basics.errors import Fault
from diagnose.basics.layout import Section, plain_text
from diagnose.notes.figures_in_words import bar
from diagnose.notes.pictures import drawn
from diagnose.notes.verdict import SHOWN, WORTH_SHOWING, pushes, shares
from diagnose.notes.wording import percent
from diagnose.reasoning.asking import Question
from diagnose.reasoning.ranking import Cause
from diagnose.reject.found import MEASUREMENT
from diagnose.session.autosave import Bench
from diagnose.terminal.screens.entry import Entry
from diagnose.terminal.screens.frame import Go, Step
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.lists import PickList, Row
from diagnose.terminal.screens.overpage import OverPage
from diagnose.terminal.screens.pages import EDGES
from diagnose.terminal.screens.pick import numbered
from diagnose.terminal.screens.question import Told, fitted, question_lines
from diagnose.terminal.screens.why import Why

WIDE, ROOMY = 78, 118
"""Columns from which the causes stand beside the question, and drawings and reasons beside them."""
BESIDE = 42
"""Columns of what stands beside them."""
REASONS = 5
NOTHING_LEFT = "Nothing more is worth asking"
VERDICT, SKIPPED, ALL_THE_SAME = "verdict", "skipped", "all the same"


class Ask(Step):
    """One question and its answers on the left, the causes on the right or below.

    In a window with room for it the answers are drawn beside them, with why the first cause stands.
    """

    place = "ask"
    BINDINGS = PLACES["ask"].bindings()

    def __init__(self, bench: Bench, entry: str = "") -> None:
        super().__init__(bench)
        self.entry = entry
        self.question: Question | None = None
        self.any_price = False

    def body(self) -> Iterable[Widget]:
        """Lay out the question, its answers and the causes."""
        yield Horizontal(
            Vertical(
                Static(id="question", markup=False),
                PickList(id="answers"),
                id="asking",
            ),
            Vertical(
                Static("Likely causes", classes="heading", markup=False),
                PickList(id="causes"),
                id="ranking",
            ),
            Static(id="beside", markup=False),
            id="halves",
        )

    def show(self) -> None:
        """Show the question to put now, and how the causes stand."""
        self.question = self._choose()
        answers = self.query_one("#answers", PickList)
        if self.question is None:
            self._show_end(answers)
        else:
            answers.fill(answer_rows(self.question))
        answers.focus()
        self._show_causes()
        self._show_beside()
        self.call_after_refresh(self._fit)

    def again(self) -> None:
        """Show the question that is best now."""
        self.entry = ""
        self.show()

    def _choose(self) -> Question | None:
        if self.entry:
            try:
                return self.session.question(self.entry)
            except Fault as fault:
                self.entry = ""
                self.say(str(fault))
        best = self.bench.next_question()
        if best is None and self.any_price:
            return next(iter(self.session.ask_next(1)), None)
        return best

    def _show_end(self, answers: PickList) -> None:
        standing = self.session.settled().text
        text = Content.assemble((f"{NOTHING_LEFT}.", "bold"), f"\n\n{standing}")
        self.query_one("#question", Static).update(text)
        ways = [(VERDICT, "go to the verdict")]
        if self.bench.skipped:
            ways.append((SKIPPED, "ask the skipped questions again"))
        ways.append((ALL_THE_SAME, "ask on all the same"))
        answers.fill(numbered(ways))

    def _question_lines(self, question: Question) -> Told:
        book = self.session.book
        return question_lines(
            question, [book.cautions[caution].say for caution in question.caution]
        )

    def _show_causes(self) -> None:
        wide = self.app.size.width >= WIDE
        self.query_one("#causes", PickList).fill(cause_rows(self.session.causes(), wide))

    def _show_beside(self) -> None:
        """Where there is room, say what speaks for the first cause, and draw the answers."""
        if self.app.size.width < ROOMY:
            return
        first = self.session.causes()[0]
        entry = self.question.id if self.question else self.session.defects()[0].id
        why = Section(f"Why: {first.name}", pushes(self.session.explain(first.id)[:REASONS]))
        told = plain_text([why, *drawn(self.session.book, entry, BESIDE)], BESIDE)
        self.query_one("#beside", Static).update(told)

    def on_resize(self) -> None:
        """Draw everything to fit."""
        self._show_causes()
        self._show_beside()
        self.call_after_refresh(self._fit)

    def _fit(self) -> None:
        """Let the question take what the answers leave, so that both are seen without moving."""
        if self.question is None:
            return
        half = self.query_one("#asking").content_size
        answers = self.query_one("#answers", PickList).virtual_size.height
        text = self.query_one("#question", Static)
        text.update(
            fitted(self._question_lines(self.question), half.width, half.height - answers - 1)
        )

    def action_answer(self, number: int) -> None:
        """Give the answer with this number."""
        answers = self.query_one("#answers", PickList)
        for row in answers.rows:
            if row.left.strip() == str(number):
                self._reply(row.id)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Take the marked answer, or show why for the marked cause."""
        if event.option_list.id == "causes":
            self.action_why()
        else:
            self._reply(event.option_id or "")

    def _reply(self, row: str) -> None:
        question = self.question
        if question is None:
            self._after_the_end(row)
        elif row == "another":
            self.action_another()
        elif row == "unsure":
            self._settle(self.bench.reply(question, ""))
        elif question.kind == MEASUREMENT:
            self.app.push_screen(Entry(self.bench, question.id), self._measured)
        else:
            self._settle(self.bench.reply(question, row))

    def _measured(self, taken: bool | None) -> None:
        if taken:
            self._settle("")

    def _settle(self, wrong: str) -> None:
        self.entry = self.entry if wrong else ""
        self.say(wrong or self.bench.new_doubt())
        self.show()

    def _after_the_end(self, row: str) -> None:
        if row == VERDICT:
            self.post_message(Go("verdict"))
            return
        self.bench.skipped.clear()
        self.any_price = row == ALL_THE_SAME
        self.show()

    def action_unsure(self) -> None:
        """Say that the answer cannot be told."""
        if self.question is not None:
            self._reply("unsure")

    def action_another(self) -> None:
        """Set this question aside and ask another."""
        if self.question is not None:
            self.bench.skipped.append(self.question.id)
            self._settle("")

    def action_more(self) -> None:
        """Show all that belongs to the question."""
        if self.question is not None:
            width = self.app.size.width - EDGES
            pictures = drawn(self.session.book, self.question.id, width)
            self.app.push_screen(
                OverPage([self._question_lines(self.question).section(), *pictures])
            )

    def action_other_part(self) -> None:
        """Go between the answers and the causes."""
        at_causes = self.query_one("#causes", PickList).has_focus
        self.query_one("#answers" if at_causes else "#causes", PickList).focus()

    def action_why(self) -> None:
        """Show what speaks for and against the marked cause."""
        at = self.query_one("#causes", PickList).highlighted
        self.app.push_screen(Why(self.session, at or 0))


def answer_rows(question: Question) -> list[Row]:
    """Return the rows of a question: its answers, "not sure" and "another"."""
    rows = numbered(list(question.answers.items()) or [("value", "type the reading")])
    unsure = "not sure" if question.answers else "it cannot be measured now"
    return [*rows, Row("unsure", unsure, "0  "), Row("another", "skip it, ask another", "s  ")]


def cause_rows(causes: Sequence[Cause], wide: bool) -> list[Row]:
    """Return the first causes with their shares, and in one line how many others there are.

    The bar stands below the name where there is room.
    """
    if not wide:
        lines = shares(causes[:4], 10)
        return [Row(one.id, line.text, line.left) for one, line in zip(causes, lines, strict=False)]
    rows = [
        Row(one.id, f"{one.name}\n{bar(one.probability, 14)}  {percent(one.probability)}")
        for one in causes[:SHOWN]
        if one.probability >= WORTH_SHOWING
    ]
    others = [one.probability for one in causes[SHOWN:] if one.probability >= WORTH_SHOWING]
    if others:
        rows.append(Row("others", f"and {len(others)} more, {percent(sum(others))} together"))
    return rows
