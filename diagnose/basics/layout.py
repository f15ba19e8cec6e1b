"""Text in sections, wrapped to any width: the same for the screens and line by line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from textwrap import wrap

from diagnose.basics.letters import harmless

WIDTH = 79
"""Columns of a page of plain text: what fits on a small terminal with a column to spare."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line: what stands at the left, and the text that wraps beside it.

    A ``drawn`` line is part of a drawing; it is cut off where there is no room, never wrapped.
    """

    text: str
    left: str = ""
    drawn: bool = False

    def wrapped(self, width: int) -> list[str]:
        """Return the line as lines of at most ``width`` characters.

        >>> Line("one two three", "1  ").wrapped(10)
        ['1  one two', '   three']
        """
        if self.drawn:
            return [self.text[:width]]
        beside = " " * len(self.left)
        return wrap(
            self.text,
            max(width, len(self.left) + 8),
            initial_indent=self.left,
            subsequent_indent=beside,
        ) or [self.left.rstrip()]


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and the lines under it."""

    title: str
    lines: tuple[Line, ...]


def plain_text(sections: Iterable[Section], width: int) -> str:
    """Return sections as text: each heading on a line of its own, a blank line between them."""
    text = "\n\n".join(
        "\n".join([section.title, *(row for line in section.lines for row in line.wrapped(width))])
        for section in sections
    )
    return harmless(text)
