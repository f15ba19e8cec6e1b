"""Write a chart as SVG: no script, black and greys, said in words for those who cannot see it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.sax.saxutils import escape as _escape

_NO_XML = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
INK, GREY, PALE = "#000", "#888", "#d9d9d9"
WIDE = 720
"""Units across a chart."""
LETTER = 6.6
"""Units that a letter of 12 takes, about: for cutting names that would run over."""


def picture(title: str, description: str, height: float, parts: Iterable[str]) -> str:
    """Return a chart that stands by itself; ``description`` says in words what it shows.

    >>> picture("A & B", "two bars", 40, []).startswith("<svg xmlns=")
    True
    """
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {height:g}" role="img" '
        'font-family="Arial, Helvetica, sans-serif" font-size="12">'
        f"<title>{escape(title)}</title><desc>{escape(description)}</desc>"
        f"{''.join(parts)}</svg>\n"
    )


def escape(text: str) -> str:
    r"""Return a text that XML takes, whatever a sheet holds.

    >>> escape("a < b\x07")
    'a &lt; b '
    """
    return _escape(_NO_XML.sub(" ", text))


def words(x: float, y: float, text: str, *, anchor: str = "start", bold: bool = False) -> str:
    """Return a line of text whose middle is at ``y``."""
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{x:g}" y="{y:g}" text-anchor="{anchor}" dominant-baseline="middle"{weight}>'
        f"{escape(text)}</text>"
    )


def box(x: float, y: float, wide: float, high: float, fill: str) -> str:
    """Return a rectangle with a thin black edge, so that it shows on any paper."""
    return (
        f'<rect x="{x:g}" y="{y:g}" width="{max(wide, 0):g}" height="{max(high, 0):g}" '
        f'fill="{fill}" stroke="{INK}" stroke-width=".6"/>'
    )


def line(points: Iterable[tuple[float, float]], *, width: float = 1, dash: str = "") -> str:
    """Return a line through points."""
    path = "L".join(f"{x:g} {y:g}" for x, y in points)
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<path d="M{path}" fill="none" stroke="{INK}" stroke-width="{width:g}"{dashed}/>'


def dot(x: float, y: float) -> str:
    """Return the mark of a point."""
    return f'<circle cx="{x:g}" cy="{y:g}" r="2.6" fill="#fff" stroke="{INK}"/>'


def diamond(x: float, y: float) -> str:
    """Return the mark of a point that is a signal."""
    return f'<path d="M{x:g} {y - 6:g}L{x + 6:g} {y:g}L{x:g} {y + 6:g}L{x - 6:g} {y:g}z"/>'


def cut(text: str, room: float) -> str:
    """Return a text that fits into so many units; the whole of it stands in the description.

    >>> cut("blow from core gas", 60)
    'blow fr..'
    """
    letters = int(room / LETTER)
    return text if len(text) <= letters else f"{text[: max(letters - 2, 1)].rstrip()}.."
