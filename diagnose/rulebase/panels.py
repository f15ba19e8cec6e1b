"""The small drawings of an entry: of a defect, or of the answers of a look."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import wrap

from diagnose.drawing.letters import lines
from diagnose.drawing.place import drawing_in_words
from diagnose.drawing.scenes import COLUMNS
from diagnose.rulebase.book import AnswerDrawings, Book, Drawing

GAP = 2
"""Columns between two drawings that stand side by side."""


@dataclass(frozen=True, slots=True)
class Panel:
    """One drawing: what stands over it, the scene, and ``mark at spot`` for what is drawn."""

    title: str
    scene: str
    marks: tuple[str, ...]

    @property
    def said(self) -> str:
        """The drawing in words, for those who cannot see it."""
        return drawing_in_words(self.scene, self.marks)


def panels(book: Book, name: str) -> list[Panel]:
    """Return the drawings of the defect or look of this id; none where it has none."""
    if name in book.defects:
        return of_defect(book.defects[name].drawings)
    look = book.looks.get(name)
    if look is None or look.drawing is None:
        return []
    says = {answer: entry.say for answer, entry in look.answers.items()}
    return of_answers(look.drawing, says)


def of_defect(drawings: Sequence[Drawing]) -> list[Panel]:
    """Return the drawings of a defect; the scene says what they show."""
    return [Panel("", drawing.scene, drawing.marks) for drawing in drawings]


def of_answers(drawing: AnswerDrawings, says: dict[str, str]) -> list[Panel]:
    """Return a drawing for each answer, numbered as the answers are."""
    return [
        Panel(f"{number}  {said}", drawing.scene, drawing.answers.get(answer, ()))
        for number, (answer, said) in enumerate(says.items(), 1)
    ]


def in_letters(shown: Sequence[Panel], width: int) -> list[str]:
    """Return drawings as lines of at most ``width`` letters, two side by side where they fit.

    A window narrower than one drawing cuts its right edge off.
    """
    abreast = 2 if width >= 2 * COLUMNS + GAP else 1
    rows: list[str] = []
    for first in range(0, len(shown), abreast):
        columns = [_column(panel) for panel in shown[first : first + abreast]]
        height = max(len(column) for column in columns)
        if rows:
            rows.append("")
        for number in range(height):
            cells = [column[number] if number < len(column) else "" for column in columns]
            line = (" " * GAP).join(cell.ljust(COLUMNS) for cell in cells)
            rows.append(line[:width].rstrip())
    return rows


def _column(panel: Panel) -> list[str]:
    """Return one drawing with its title, without empty lines above and below."""
    drawn = lines(panel.scene, panel.marks)
    while drawn and not drawn[0]:
        drawn.pop(0)
    while drawn and not drawn[-1]:
        drawn.pop()
    return [*wrap(panel.title, COLUMNS), *drawn]
