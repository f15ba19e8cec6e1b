"""Numbers as they stand in a cell, with a decimal comma or a decimal point."""

from __future__ import annotations

import re
from collections.abc import Iterable

from diagnose.sheets.table import Cell

MARKS = {".": "point", ",": "comma"}
"""What may part the decimals of a number."""
NOTHING = {"-", "--", "\u2013", "\u2014", "/", "n/a", "na", "n.a.", "none", "nil", "nd", "n.d.",
           "not done", "not tested", "x"}  # fmt: skip
"""What people write where nothing was measured; common practice, no source."""
_NUMBER = re.compile(
    r"([-+\u2212]?)(\d[\d.,' \u2019]*\d|\d[.,]?|[.,]\d+)((?:[eE][-+]?\d{1,3})?)\s*(.*)"
)


def is_nothing(cell: Cell) -> bool:
    """Tell whether a cell says that nothing was measured.

    >>> is_nothing(None), is_nothing("n/a"), is_nothing(0.0)
    (True, True, False)
    """
    return cell is None or (isinstance(cell, str) and cell.casefold() in NOTHING)


def numbers_in(cell: Cell) -> tuple[dict[str, float], str]:
    """Return decimal mark -> number for every way to read a cell, and what stands behind it.

    >>> numbers_in("4,6 %"), numbers_in("1,310")
    (({',': 4.6}, '%'), ({'.': 1310.0, ',': 1.31}, ''))
    >>> numbers_in("damp"), numbers_in(4.6)
    (({}, ''), ({'.': 4.6, ',': 4.6}, ''))
    """
    if isinstance(cell, float):
        return dict.fromkeys(MARKS, cell), ""
    found = _NUMBER.fullmatch(cell) if isinstance(cell, str) else None
    if not found:
        return {}, ""
    sign = "-" if found[1] in ("-", "\u2212") else ""
    ways: dict[str, float] = {}
    for mark in MARKS:
        digits = _digits(found[2], mark)
        if digits is not None:
            ways[mark] = float(f"{sign}{digits}{found[3]}")
    return ways, found[4].strip()


def shared_marks(cells: Iterable[Cell]) -> list[str]:
    """Return the marks with which every one of the cells can be read that holds a number.

    >>> shared_marks(["4,6", "1.310", "damp"]), shared_marks(["1310", "1.310"])
    ([','], ['.', ','])
    """
    ways = [ways for ways, _ in map(numbers_in, cells) if ways]
    return [mark for mark in MARKS if all(mark in way for way in ways)]


def _digits(text: str, mark: str) -> str | None:
    """Return a number as Python writes it, or None where it cannot be one with this mark."""
    other = "," if mark == "." else "."
    whole, dot, rest = text.partition(mark)
    if not rest.isdecimal() and rest:
        return None
    groups = re.split(rf"[{re.escape(other)}' \u2019]", whole)
    parted = len(groups) > 1
    if parted and (not 1 <= len(groups[0]) <= 3 or any(len(group) != 3 for group in groups[1:])):
        return None
    if parted and (groups[0].startswith("0") or not all(map(str.isdecimal, groups))):
        return None
    return f"{''.join(groups)}{'.' if dot else ''}{rest}"
