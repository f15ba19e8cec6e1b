"""What you see: phrases in plain words, what they were taken for, and the way to put that right."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING

from textual.containers import Vertical
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static

from diagnose.reasons import found_text
from diagnose.reject import CALLED, CHECK, Found
from diagnose.screens.field import Field
from diagnose.screens.frame import Go, Step
from diagnose.screens.keys import PLACES
from diagnose.screens.lists import PickList, Row
from diagnose.screens.pick import Pick, numbered
from diagnose.wording import quoted

if TYPE_CHECKING:
    from diagnose.rulebase.words import Match

ASKS = (
    "What do you see? Type it in your own words, then Enter; then the next thing.\n"
    "Enter with nothing typed goes on to the questions."
)


class See(Step):
    """A field for phrases over the list of what was understood and what was not."""

    place = "see"
    BINDINGS = PLACES["see"].bindings()

    def body(self) -> Iterable[Widget]:
        """Lay out the field and the list."""
        yield Vertical(
            Static(ASKS, classes="heading", markup=False),
            Field(self.bench.drafts.get("see", ""), id="phrase"),
            Static("", id="understood", markup=False),
            PickList(id="phrases"),
            id="seeing",
        )

    def show(self) -> None:
        """Show what was taken down so far."""
        phrases = self.query_one("#phrases", PickList)
        phrases.fill(self._rows(), at=phrases.highlighted or 0)
        told = "This is what was understood:" if phrases.rows else "Nothing said yet."
        self.query_one("#understood", Static).update(told)
        if not (phrases.has_focus and phrases.rows):
            self.query_one("#phrase", Field).focus()

    def _rows(self) -> list[Row]:
        desk = self.session.desk
        rows = [
            Row(
                found.id,
                f"{found_text(desk, found)}   {quoted(self.bench.words_for(found))}",
                "understood  ",
            )
            for found in self.bench.seen()
        ]
        for number, words in enumerate(self.session.reject.not_understood):
            unclear = self.bench.is_unclear(words)
            left = "which one?  " if unclear else "not known   "
            then = "Enter says which" if unclear else "kept for the note"
            rows.append(Row(f"words {number}", f"{quoted(words)}   {then}", left))
        return rows

    def leave(self) -> bool:
        """Keep a phrase that is typed but not yet said."""
        self.bench.drafts["see"] = self.query_one("#phrase", Field).value
        return True

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the phrase; with nothing typed, go on to the questions."""
        phrase = event.value.strip()
        if not phrase:
            self.post_message(Go("ask"))
            return
        event.input.value = ""
        wrong = self.bench.change(lambda: self.session.see(phrase))
        self.say(wrong or self.bench.new_doubt())
        self.show()
        phrases = self.query_one("#phrases", PickList)
        phrases.highlighted = len(phrases.rows) - 1 if phrases.rows else None
        unclear = [part.words for part in self.bench.understood(phrase).unclear]
        self._ask_in_turn(unclear)

    def _ask_in_turn(self, unclear: Sequence[str]) -> None:
        """Ask what each of these words means, one after the other."""
        if unclear:
            self._ask_meaning(unclear[0], lambda: self._ask_in_turn(unclear[1:]))

    def _ask_meaning(self, words: str, then: Callable[[], None]) -> None:
        meanings = self.bench.meanings(words)
        rows = numbered(
            [(str(n), self.bench.meaning(match)) for n, match in enumerate(meanings)],
            "none of these; keep the words for the note",
        )

        def settle(chosen: str | None) -> None:
            if chosen:
                self._mean(meanings[int(chosen)], words)
            self.show()
            then()

        self.app.push_screen(Pick(f"What does {quoted(words)} mean?", rows), settle)

    def _mean(self, match: Match, words: str) -> None:
        self.say(self.bench.mean(match, words))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Put the marked line right."""
        found = self.session.reject.about(event.option_id or "")
        if found is not None:
            self._correct(found)
            return
        words = self._words(event.option_id or "")
        if self.bench.meanings(words):
            self._ask_meaning(words, lambda: None)
        else:
            self.say("Say it in other words. These stay in the note; x strikes them out.")

    def _correct(self, found: Found) -> None:
        book = self.session.book
        if found.kind == CALLED:
            choices = [(name, defect.name) for name, defect in book.defects.items()]
            title = "What do you call it?"
        elif found.kind == CHECK:
            choices, title = [*book.checks[found.id].answers.items()], book.checks[found.id].ask
        else:
            look = book.looks[found.id]
            choices, title = [(a, entry.say) for a, entry in look.answers.items()], look.ask
        rows = numbered(choices, "strike it out: I did not mean that")
        self.app.push_screen(Pick(title, rows), lambda chosen: self._put_right(found, chosen))

    def _put_right(self, found: Found, chosen: str | None) -> None:
        session = self.session
        if chosen == "":
            self.say(self.bench.change(lambda: session.take_back(found.id)))
        elif chosen and found.kind == CALLED:
            self.say(self.bench.change(lambda: session.call_it(chosen, found.said)))
        elif chosen:
            give = session.check if found.kind == CHECK else session.answer
            self.say(self.bench.change(lambda: give(found.id, chosen, found.said)))
        self.show()

    def _words(self, row: str) -> str:
        return self.session.reject.not_understood[int(row.removeprefix("words "))]

    def action_strike(self) -> None:
        """Strike the marked line out."""
        row = self.query_one("#phrases", PickList).marked()
        if row is None:
            return
        if self.session.reject.about(row.id) is not None:
            self.say(self.bench.change(lambda: self.session.take_back(row.id)))
        else:
            words = self._words(row.id)
            self.say(self.bench.change(lambda: self.session.forget_phrase(words)))
        self.show()

    def action_other_part(self) -> None:
        """Go between the field and the list."""
        phrases = self.query_one("#phrases", PickList)
        if phrases.has_focus or not phrases.rows:
            self.query_one("#phrase", Field).focus()
        else:
            phrases.focus()
