"""Draw with letters, for the terminal and plain text."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from diagnose.drawing.place import placed
from diagnose.drawing.scenes import COLUMNS, CORE, ROWS, SAND, SCENES, Area, Point, Scene

_FILL = {SAND: ".", CORE: ":"}

Grid = list[list[str]]


def lines(scene: str, marks: Sequence[str] = ()) -> list[str]:
    r"""Return a drawing as at most ``ROWS`` lines of at most ``COLUMNS`` letters, all ASCII.

    >>> for line in lines("plate", ["crack at middle"])[3:7]:
    ...     print(line.rstrip())
    <BLANKLINE>
      +--------------------------------+
      |             /\/\/\             |
      +--------------------------------+
    """
    grid = [[" "] * COLUMNS for _ in range(ROWS)]
    here = SCENES[scene]
    _scene(grid, here)
    for mark, (column, row) in placed(scene, marks):
        top = round(row - (len(mark.letters) - 1) / 2)
        for number, letters in enumerate(mark.letters):
            _write(grid, letters, column, top + number)
    return ["".join(row).rstrip() for row in grid]


def _scene(grid: Grid, scene: Scene) -> None:
    for area in scene.areas:
        _fill(grid, area)
        _outline(grid, (*area.outline, area.outline[0]))
    for line in scene.lines:
        _outline(grid, line)
    for word, (column, row) in scene.words.items():
        _write(grid, word, column, round(row))


def _fill(grid: Grid, area: Area) -> None:
    for row in range(ROWS):
        for column in range(COLUMNS):
            if _inside(area.outline, column, row):
                grid[row][column] = _FILL.get(area.fill, " ")


def _inside(outline: Sequence[Point], x: float, y: float) -> bool:
    """Tell whether a point lies in a closed outline: an odd number of sides lies to its right."""
    odd = False
    for (x1, y1), (x2, y2) in pairwise((*outline, outline[0])):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            odd = not odd
    return odd


def _outline(grid: Grid, points: Sequence[Point]) -> None:
    for (x1, y1), (x2, y2) in pairwise(points):
        steps = max(abs(round(x2 - x1)), abs(round(y2 - y1)), 1)
        letter = _letter(x2 - x1, y2 - y1)
        for step in range(steps + 1):
            share = step / steps
            _put(grid, x1 + share * (x2 - x1), y1 + share * (y2 - y1), letter)
    for x, y in points:
        _put(grid, x, y, "+")


def _letter(right: float, down: float) -> str:
    r"""Return the letter that runs most nearly in a direction.

    >>> _letter(3, 0) + _letter(0, 2) + _letter(4, 2) + _letter(4, -2)
    '-|\\/'
    """
    if down == 0:
        return "-"
    if right == 0:
        return "|"
    return "\\" if (right > 0) == (down > 0) else "/"


def _put(grid: Grid, x: float, y: float, letter: str) -> None:
    column, row = round(x), round(y)
    if 0 <= row < ROWS and 0 <= column < COLUMNS:
        grid[row][column] = letter


def _write(grid: Grid, letters: str, column: float, row: int) -> None:
    """Write letters centred on a column; a space lets through what is below."""
    left = round(column - (len(letters) - 1) / 2)
    left = max(0, min(left, COLUMNS - len(letters)))
    for number, letter in enumerate(letters):
        if letter != " ":
            _put(grid, left + number, row, letter)
