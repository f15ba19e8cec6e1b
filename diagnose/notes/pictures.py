"""The small drawings of a question or a fault as a section of a page."""

from __future__ import annotations

from diagnose.basics.layout import Line, Section
from diagnose.rulebase.book import Book
from diagnose.rulebase.panels import in_letters, panels

OF_ANSWERS, OF_FAULT = "What the answers look like", "Where it sits, and what it looks like"


def drawn(book: Book, name: str, width: int) -> list[Section]:
    """Return one section with the drawings of a look or a defect; [] where there are none."""
    rows = in_letters(panels(book, name), width)
    title = OF_FAULT if name in book.defects else OF_ANSWERS
    return [Section(title, tuple(Line(row, drawn=True) for row in rows))] if rows else []


def described(book: Book, name: str) -> list[Section]:
    """Return the same in words, for those who cannot see a drawing."""
    shown = panels(book, name)
    title = OF_FAULT if name in book.defects else OF_ANSWERS
    lines = tuple(Line(panel.said, f"{panel.title}: " if panel.title else "") for panel in shown)
    return [Section(title, lines)] if lines else []
