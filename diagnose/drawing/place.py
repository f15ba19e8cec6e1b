"""Read the description of a drawing: which mark stands where."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.drawing.marks import MARKS, Mark
from diagnose.drawing.scenes import SCENES, Point, Scene


def split(text: str) -> tuple[str, str]:
    """Return mark and spot of ``mark at spot``; an empty spot where there is no ``at``.

    >>> split("pear-hole at under-skin"), split("hole")
    (('pear-hole', 'under-skin'), ('hole', ''))
    """
    mark, _, spot = text.partition(" at ")
    return mark.strip(), spot.strip()


def placed(scene: str, marks: Sequence[str]) -> list[tuple[Mark, Point]]:
    """Return the marks of a drawing with the places at which they stand, in cells."""
    spots = SCENES[scene].spots
    return [(MARKS[mark], spots[spot]) for mark, spot in map(split, marks)]


def drawing_in_words(scene: str, marks: Sequence[str]) -> str:
    """Say a drawing for those who cannot see it.

    >>> drawing_in_words("wall", ["hole at under-skin"])
    'Close by: the sand of the mould above, the iron below the skin. A round hole (under skin).'
    """
    here: Scene = SCENES[scene]
    said = [f"{MARKS[mark].says} ({spot.replace('-', ' ')})" for mark, spot in map(split, marks)]
    if not said:
        return here.says
    shown = "; ".join(said)
    return f"{here.says} {shown[0].upper()}{shown[1:]}."
