"""A page of sections that wraps to its width and scrolls by keys."""

from __future__ import annotations

from collections.abc import Sequence

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from diagnose.basics.layout import Section

EDGES = 6
"""Columns of the window that a page has not for its text, at most."""


class Page(VerticalScroll, can_focus=True):
    """Sections one below the other; Up, Down, PgUp and PgDn scroll."""

    def __init__(self, *, id: str) -> None:  # noqa: A002 - the name that Textual gives it
        super().__init__(Static(markup=False), id=id)
        self.sections: Sequence[Section] = ()

    def fill(self, sections: Sequence[Section]) -> None:
        """Show these sections from the top."""
        self.sections = sections
        self._draw()
        self.scroll_home(animate=False)

    def on_resize(self) -> None:
        """Wrap anew."""
        self._draw()

    def _draw(self) -> None:
        width = max(20, self.scrollable_content_region.width)
        parts: list[Content] = []
        for section in self.sections:
            rows = [row for line in section.lines for row in line.wrapped(width)]
            title = Content.styled(section.title, "bold underline")
            parts.append(Content("\n").join([title, *(Content(row) for row in rows)]))
        self.query_one(Static).update(Content("\n\n").join(parts))
