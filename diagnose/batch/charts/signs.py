"""The signs that charts are drawn with, and plain letters where these cannot be shown."""

from __future__ import annotations

from dataclasses import dataclass

WIDTH = 80
LEAST = 30
"""Columns below which a chart is drawn as if it had this many."""


@dataclass(frozen=True, slots=True)
class Signs:
    """One sign for each thing in a chart. ``levels``: from nothing to the most, for a trend."""

    full: str
    light: str
    point: str
    signal: str
    centre: str
    limit: str
    side: str
    corner: str
    floor: str
    mark: str
    levels: str


DRAWN = Signs("█", "░", "●", "◆", "─", "┄", "│", "└", "─", "▲", " ▁▂▃▄▅▆▇█")
LETTERS = Signs("#", "=", "o", "X", "-", ".", "|", "+", "-", "^", " _.-:=+*#")


def signs_for(encoding: str) -> Signs:
    """Return the signs that an encoding can show.

    >>> signs_for("utf-8").full, signs_for("ascii").full, signs_for("latin-1").full
    ('█', '#', '#')
    """
    try:
        "".join((DRAWN.full, DRAWN.signal, DRAWN.mark, DRAWN.limit)).encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return LETTERS
    return DRAWN


def bar(share: float, width: int, sign: str) -> str:
    """Return a bar of at most ``width`` columns; anything above nought shows.

    >>> bar(0.5, 8, "#"), bar(0.001, 8, "#"), bar(0, 8, "#"), bar(1, -2, "#")
    ('####', '#', '', '')
    """
    if width < 1:
        return ""
    columns = min(width, round(share * width))
    return sign * (max(columns, 1) if share > 0 else 0)
