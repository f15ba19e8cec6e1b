"""What you see: phrases in plain words, what they were taken for, and the way to put that right."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.containers import Vertical
from textual.events import Key
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static

from diagnose.notes.figures_in_words import quoted
from diagnose.reasoning.reasons import found_text
from diagnose.reject.found import CALLED, CHECK, SURE, Called, Checked, Found, Looked
from diagnose.session.autosave import Bench
from diagnose.terminal.screens.field import Field
from diagnose.terminal.screens.frame import Go, Step
from diagnose.terminal.screens.keys import PLACES
from diagnose.terminal.screens.lists import PickList, Row
from diagnose.terminal.screens.pick import Pick, numbered
from diagnose.words.heard import Meaning

MOST_OFFERS = 5
ROOMY = 24
"""Lines of a screen that has room for the heading of the list beside the offers."""
NEITHER = "0  none of these"
ASKS = (
    "What do you see? Type it in your own words, then Enter; then the next thing.\n"
    "Enter with nothing typed goes on to the questions."
)
HEARD, LIKELY_ROW, UNKNOWN = "+ heard   ", "? likely  ", "- unknown "
"""How sure a line is, by sign and by word."""


class PhraseField(Field):
    """The field for phrases; while it is empty, a digit settles what the last phrase means."""

    def on_key(self, event: Key) -> None:
        """Hand a digit to the screen before the field takes it for a letter."""
        here = self.screen
        digit = not self.value and event.key.isdecimal()
        if digit and isinstance(here, See) and here.pick(int(event.key)):
            event.stop()
            event.prevent_default()


class See(Step):
    """A field for phrases over the list of what was heard, what is likely and what is unknown."""

    place = "see"
    BINDINGS = PLACES["see"].bindings()

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.phrase = ""  # the last one said; what it may mean can be settled with a digit

    def body(self) -> Iterable[Widget]:
        """Lay out the field, what is to be settled, and the list."""
        yield Vertical(
            Static(ASKS, classes="heading", markup=False),
            PhraseField(self.bench.drafts.get("see", ""), id="phrase"),
            Static("", id="offers", markup=False),
            Static("", id="understood", markup=False),
            PickList(id="phrases"),
            id="seeing",
        )

    def show(self) -> None:
        """Show what was taken down so far."""
        phrases = self.query_one("#phrases", PickList)
        before, rows = phrases.marked(), self._rows()
        same = [number for number, row in enumerate(rows) if before and row.id == before.id]
        phrases.fill(rows, at=next(iter(same), phrases.highlighted or 0))
        told = "This is what was heard:" if phrases.rows else "Nothing said yet."
        self.query_one("#understood", Static).update(told)
        self._show_offers()
        if not (phrases.has_focus and phrases.rows):
            self.query_one("#phrase", Field).focus()

    def _rows(self) -> list[Row]:
        desk = self.session.desk
        rows = [
            Row(
                found.id,
                f"{found_text(desk, found)}   {quoted(found.said)}",
                HEARD if found.chance >= SURE else LIKELY_ROW,
            )
            for found in self.bench.seen()
        ]
        for number, words in enumerate(self.session.reject.not_understood):
            text = f"{quoted(words)}   kept for the note"
            rows.append(Row(f"words {number}", text, UNKNOWN, words))
        return rows

    def _offers(self) -> list[Meaning]:
        return self.bench.offers(self.phrase)[:MOST_OFFERS] if self.phrase else []

    def _show_offers(self) -> None:
        """Show what the last phrase may mean; a digit picks while nothing is typed."""
        offers = self._offers()
        lines = [f"{n}  {self.bench.meaning(one)}" for n, one in enumerate(offers, 1)]
        if lines:
            about = quoted(self.phrase if len(self.phrase) <= 40 else f"{self.phrase[:40]}...")
            lines = [f"Did you mean, by {about}? A digit picks; or type on.", *lines, NEITHER]
        told = self.query_one("#offers", Static)
        told.update("\n".join(lines))
        told.display = bool(lines)
        room = self.app.size.height >= ROOMY or not lines
        self.query_one("#understood", Static).display = room

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
        self.phrase = phrase
        wrong = self.bench.see(phrase)
        self.say(wrong or self.bench.new_doubt() or self.bench.readings_told(phrase))
        self.show()
        phrases = self.query_one("#phrases", PickList)
        phrases.highlighted = self._said_last(phrases.rows)

    def _said_last(self, rows: Sequence[Row]) -> int | None:
        """Return the number of the last line that the last phrase has a part in."""
        heard = self.bench.heard(self.phrase)
        said = {one.id for one in (*heard.taken, *heard.likely, *heard.ruled_out)}
        kept = enumerate(self.session.reject.not_understood)
        said |= {f"words {number}" for number, words in kept if words in heard.missed}
        return max((n for n, row in enumerate(rows) if row.id in said), default=len(rows) - 1)

    def pick(self, number: int) -> bool:
        """Settle the last phrase by an offer's number, or by 0; tell whether there was such one."""
        offers = self._offers()
        if not offers or number > len(offers):
            return False
        if number == 0:
            self._none_of(offers)
        else:
            self._mean(offers[number - 1])
        return True

    def _none_of(self, offers: Sequence[Meaning]) -> None:
        """Strike everything that the last phrase may mean."""
        self.say(self.bench.strike_meanings(offers))
        self.phrase = ""
        self.show()

    def _mean(self, one: Meaning) -> None:
        kept = self.session.reject.not_understood
        words = self.phrase if self.phrase in kept else one.words
        wrong = self.bench.mean(one, words)
        self.say(wrong or f"Taken down: {self.bench.meaning(one)}. F9 takes it back.")
        self.show()

    def action_yes(self) -> None:
        """Settle the marked line: it is what was meant."""
        found = self._marked()
        if isinstance(found, Called | Checked | Looked) and found.chances:
            answer = "" if found.kind == CALLED else found.answer
            meaning = Meaning(found.kind, found.id, answer, 1.0, found.said)
            self.say(self.bench.mean(meaning, found.said))
        self.show()

    def action_no(self) -> None:
        """Settle the marked line: it is not what was meant."""
        found = self._marked()
        if found is not None and found.chances:
            self.say(self.bench.strike_heard(found.id))
        self.show()

    def _marked(self) -> Found | None:
        row = self.query_one("#phrases", PickList).marked()
        return None if row is None else self.session.reject.finding(row.id)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Put the marked line right."""
        found = self.session.reject.finding(event.option_id or "")
        if found is not None:
            self._correct(found)
            return
        words = self.query_one("#phrases", PickList).rows[event.option_index].words
        meanings = self.bench.meanings(words)[:9]
        if not meanings:
            self.say("Say it in other words. These stay in the note; x strikes them out.")
            return
        rows = numbered(
            [(str(n), self.bench.meaning(one)) for n, one in enumerate(meanings)],
            "none of these; keep the words for the note",
        )

        def settle(chosen: str | None) -> None:
            if chosen:
                self.say(self.bench.mean(meanings[int(chosen)], words))
            self.show()

        self.app.push_screen(Pick(f"What does {quoted(words)} mean?", rows), settle)

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

    def action_strike(self) -> None:
        """Strike the marked line out."""
        row = self.query_one("#phrases", PickList).marked()
        if row is None:
            return
        self.say(self.bench.strike(row.id, row.words))
        self.show()

    def action_other_part(self) -> None:
        """Go between the field and the list."""
        phrases = self.query_one("#phrases", PickList)
        if phrases.has_focus or not phrases.rows:
            self.query_one("#phrase", Field).focus()
        else:
            phrases.focus()
