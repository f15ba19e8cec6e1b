"""All the faults of the book as one page with pictures, for reading, teaching and printing."""

from __future__ import annotations

from collections.abc import Iterator
from xml.sax.saxutils import escape

from diagnose.drawing.vector import svg
from diagnose.notes.render import markdown
from diagnose.notes.wording import sentence
from diagnose.reasoning.prior import shares_of_causes
from diagnose.reasoning.setup import Desk
from diagnose.rulebase.book import Book
from diagnose.rulebase.panels import panels

PAGE, PICTURES = "faults.md", "faults"
WIDE = 330
"""Width of a picture on the page, so that two stand side by side."""

CAUSES = 6
"""Causes named for each fault, the commonest first."""

_HEAD = """\
# The faults

What each fault is, where it sits, what it is taken for and what brings it about. Made from the
book of causes by `diagnose book faults`; mend the book, not this page. The shares say how the
rejects of a fault are divided among its causes before anything is known of the one in hand: they
are judgements, not counts.
"""


def files(desk: Desk) -> dict[str, str]:
    """Return path in the folder -> text, of the page and all its pictures."""
    book = desk.book
    pictures = {
        picture(name, number): svg(panel.scene, panel.marks)
        for name in book.defects
        for number, panel in enumerate(panels(book, name), 1)
    }
    return {PAGE: page(desk)} | pictures


def picture(defect: str, number: int) -> str:
    """Return the path of one picture of a defect, from the page."""
    return f"{PICTURES}/{defect}-{number}.svg"


def page(desk: Desk) -> str:
    """Return the page as Markdown: the faults in the order of their names."""
    shares = shares_of_causes(desk)
    names = sorted(desk.book.defects, key=lambda name: desk.book.defects[name].name)
    parts = ("\n".join(_fault(desk.book, name, shares.get(name, {}))) for name in names)
    return "\n".join([_HEAD, *parts])


def _fault(book: Book, name: str, causes: dict[str, float]) -> Iterator[str]:
    defect = book.defects[name]
    yield f"## {markdown(defect.name)}\n"
    yield f"{markdown(sentence(defect.what))}\n"
    if defect.scope and defect.scope.metal:
        yield f"Only in: {', '.join(defect.scope.metal)}.\n"
    for number, panel in enumerate(panels(book, name), 1):
        said = escape(panel.said, {'"': "&quot;"})
        yield f'<img src="{picture(name, number)}" width="{WIDE}" alt="{said}">'
    yield ""
    if defect.also:
        yield f"Also called: {markdown(', '.join(defect.also))}.\n"
    if causes:
        yield f"Comes from: {_causes(book, causes)}.\n"
    for pair in book.pairs.values():
        if name in pair.pair:
            other = pair.pair[1 - pair.pair.index(name)]
            yield f"- Or {markdown(book.defects[other].name)}? {markdown(sentence(pair.say))}"
    yield ""


def _causes(book: Book, causes: dict[str, float]) -> str:
    whole = sum(causes.values())
    first = [
        f"{markdown(book.conditions[cause].name)} ({share / whole:.0%})"
        for cause, share in list(causes.items())[:CAUSES]
    ]
    others = len(causes) - CAUSES
    return "; ".join(first + ([f"and {others} more"] if others > 0 else []))
