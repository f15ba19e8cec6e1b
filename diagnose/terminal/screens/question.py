"""A question on the screen: as much of it as there is room for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from textwrap import wrap

from textual.content import Content

from diagnose.basics.duration import about
from diagnose.basics.layout import Line, Section
from diagnose.notes.wording import first_sentence, sentence
from diagnose.reasoning.asking import Question
from diagnose.terminal.screens.keys import MORE

REST = "shows the rest of it"
GAP = Line("")


@dataclass(frozen=True, slots=True)
class Told:
    """What belongs to a question: how to look, how long it takes, what to mind, why it is put."""

    ask: str
    how: str
    minutes: float
    cautions: tuple[str, ...]
    why: str

    def lines(self, *, short: bool = False) -> Iterator[Line]:
        """Yield what stands under the question; ``short``: the first sentence of each caution."""
        for caution in self.cautions:
            yield Line(first_sentence(caution) if short else caution, "Care: ")
        yield Line(self.how, "Look: ")
        yield Line(sentence(about(self.minutes)), "Takes: ")
        yield Line(self.why, "Why: ")

    def section(self) -> Section:
        """Return all of it, to be read on a page."""
        return Section(self.ask, tuple(self.lines()))

    def shortened(self) -> Iterator[list[Line]]:
        """Yield what may stand under the question, the longest first; cautions go last."""
        yield [GAP, *self.lines()]
        *kept, why = self.lines(short=True)
        yield [GAP, *kept, why]
        yield [GAP, *kept]
        *cautions, how, time = kept
        yield [GAP, *cautions, Line(first_sentence(how.text), how.left), time]
        yield cautions


def question_lines(question: Question, cautions: Sequence[str]) -> Told:
    """Return what belongs to a question; ``cautions``: their texts."""
    return Told(question.ask, question.how, question.minutes, tuple(cautions), question.why)


def fitted(one: Told, width: int, height: int) -> Content:
    """Return a question in so many columns and rows; a last line says where the rest is.

    No word of the question itself is left out, however little room there is.
    """
    asked = [Content.styled(row, "bold") for row in wrap(one.ask, width)]
    room = height - len(asked)
    whole, *shorter = ([*_rows(lines, width)] for lines in one.shortened())
    if len(whole) <= room:
        return Content("\n").join([*asked, *whole])
    rows = next((rows for rows in shorter if len(rows) < room), [])
    more = [Content.assemble((MORE.shown, "bold"), f"  {REST}")] if room > 0 else []
    return Content("\n").join([*asked, *rows, *more])


def _rows(lines: Sequence[Line], width: int) -> Iterator[Content]:
    """Yield the rows that lines take, their labels underlined."""
    for line in lines:
        first, *others = wrap(f"{line.left}{line.text}", width) or [""]
        label = line.left.rstrip()
        yield Content.assemble((label, "underline"), first.removeprefix(label))
        yield from map(Content, others)
