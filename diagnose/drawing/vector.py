"""Draw as SVG, for notes and documents."""

from __future__ import annotations

from collections.abc import Sequence
from xml.sax.saxutils import escape

from diagnose.drawing.marks import BRIGHT, DARK, HOLLOW, LINE, SANDY, Mark
from diagnose.drawing.place import drawing_in_words, placed
from diagnose.drawing.scenes import AIR, COLUMNS, CORE, IRON, ROWS, SAND, SCENES, Point

ACROSS, DOWN = 10.0, 16.0
"""Units of the vector drawing for one column and one row."""

EDGE = 6.0
_BIGGER = 1.6
_INK = {
    LINE: 'fill="none"',
    HOLLOW: 'fill="#fff"',
    DARK: 'fill="#444"',
    BRIGHT: 'fill="#f4f4f4" stroke-dasharray="3 2"',
    SANDY: 'fill="#c9a66b"',
}
_FILL = {SAND: "url(#sand)", CORE: "url(#core)", IRON: "#b8bcc2", AIR: "#fff"}
_PATTERNS = (
    '<defs><pattern id="sand" width="8" height="8" patternUnits="userSpaceOnUse">'
    '<rect width="8" height="8" fill="#f3ead7"/>'
    '<circle cx="2" cy="2" r=".9" fill="#8a7048"/><circle cx="6" cy="6" r=".9" fill="#8a7048"/>'
    '</pattern><pattern id="core" width="8" height="8" patternUnits="userSpaceOnUse">'
    '<rect width="8" height="8" fill="#fff7e6"/>'
    '<path d="M0 8L8 0M0 0L8 8" stroke="#8a7048" stroke-width=".7"/></pattern></defs>'
)


def svg(scene: str, marks: Sequence[str] = ()) -> str:
    """Return a drawing as a piece of SVG that stands by itself, with its description in words.

    >>> svg("wall", ["hole at under-skin"]).startswith('<svg xmlns="http://www.w3.org/2000/svg"')
    True
    """
    here = SCENES[scene]
    width, height = (COLUMNS - 1) * ACROSS + 2 * EDGE, (ROWS - 1) * DOWN + 2 * EDGE
    said = escape(drawing_in_words(scene, marks))
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" role="img">',
        f"<title>{said}</title>{_PATTERNS}",
        '<g stroke="#111" stroke-width="1.6" stroke-linejoin="round">',
    ]
    parts += [f'<path d="{_path(a.outline)}z" fill="{_FILL[a.fill]}"/>' for a in here.areas]
    parts += [f'<path d="{_path(line)}" fill="none"/>' for line in here.lines]
    parts += [_mark(mark, spot) for mark, spot in placed(scene, marks)]
    parts.append("</g>")
    for word, spot in here.words.items():
        x, y = _at(spot)
        parts.append(
            f'<text x="{x:g}" y="{y:g}" font-family="sans-serif" font-size="13" '
            f'text-anchor="middle" dominant-baseline="middle">{escape(word)}</text>'
        )
    return "".join(parts) + "</svg>\n"


def _at(spot: Point) -> Point:
    return EDGE + spot[0] * ACROSS, EDGE + spot[1] * DOWN


def _path(points: Sequence[Point]) -> str:
    return "M" + "L".join(f"{x:g} {y:g}" for x, y in map(_at, points))


def _mark(mark: Mark, spot: Point) -> str:
    if not mark.strokes:
        return ""
    x, y = _at(spot)
    place = f"translate({x:g} {y:g}) scale({_BIGGER})"
    return f'<path d="{mark.strokes}" transform="{place}" {_INK[mark.ink]}/>'
