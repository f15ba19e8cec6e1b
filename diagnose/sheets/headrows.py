"""Find the row of headings of a table, or the two that make it up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from diagnose.sheets.dates import clock_in, days_in
from diagnose.sheets.given import Choice, Doubt, Given, InDoubt, listed
from diagnose.sheets.heading import folded, unit_of
from diagnose.sheets.names import Names
from diagnose.sheets.numbers import numbers_in
from diagnose.sheets.table import Cell, Table, shown

DEEPEST = 50
"""Rows from the top among which the headings are looked for."""
WIDEST = 300
"""Columns that are looked at."""


@dataclass(frozen=True, slots=True)
class Headings:
    """The headings of a table.

    ``top`` and ``bottom``: their first and last row, with that of the units. ``texts``: the
    heading of each column, empty for none. ``units``: from a row of units. ``end``: the row before
    which the readings end. ``again``: rows in which the same headings stand once more.
    """

    top: int
    bottom: int
    texts: tuple[str, ...]
    units: tuple[str, ...]
    end: int
    again: frozenset[int] = frozenset()


def find_headings(table: Table, names: Names, given: Given) -> Headings:
    """Return the headings of a table.

    Raises Fault where there are none or the cells were not read, and InDoubt where two rows could
    be those meant.
    """
    if table.unread:
        raise table.fault(table.unread, "Keep the rows and columns that matter.")
    if not any(cell is not None for row in table.rows for cell in row):
        raise table.fault("The sheet is empty.", "Is it the right one?")
    told = {name.casefold() for name, _ in given.columns}
    tops = [given.header - 1] if given.header else list(range(min(len(table.rows), DEEPEST)))
    blocks = [_block(table, names, top, depth) for top in tops for depth in (1, 2)]
    scored = [(_score(block, names, told), block) for block in blocks if block]
    best, headings = max(scored, key=lambda pair: pair[0], default=(0.0, None))
    if headings is None or not (best or given.header):
        raise _none_understood(table, given)
    headings = _with_units(table, headings)
    return _bounded(table, names, headings, given)


def _none_understood(table: Table, given: Given) -> Exception:
    if given.header:
        return table.fault(f"Row {given.header} holds no headings.", "Give another row.")
    rows = [row for row in table.rows if any(isinstance(cell, str) for cell in row)]
    fullest = max(rows, key=lambda row: sum(isinstance(cell, str) for cell in row), default=())
    texts = [f"'{shown(cell)}'" for cell in fullest if isinstance(cell, str)][:8]
    what = "No heading of this sheet is understood as a reading."
    seen = f" It has {listed(texts)}." if texts else ""
    way_out = "Say what a column holds, such as --column 'Feuchte=moulding sand moisture, %'."
    return table.fault(what + seen, way_out)


def _block(table: Table, names: Names, top: int, depth: int) -> Headings | None:
    """Return the headings that one or two rows would make, or None where they cannot be such."""
    bottom = top + depth - 1
    if not 0 <= top <= bottom < len(table.rows):
        return None
    rows = range(top, bottom + 1)
    if any(_is_value(cell) for row in rows for cell in table.rows[row][:WIDEST]):
        return None
    width = min(table.width, WIDEST)
    lower = [_text(table.over(bottom, column)) for column in range(width)]
    if depth == 1:
        return (
            Headings(top, bottom, tuple(lower), ("",) * width, len(table.rows))
            if any(lower)
            else None
        )
    upper = _group_names(table, top, width)
    if sum(map(bool, {*upper})) < 2:
        return None
    texts = [_joined(names, above, below) for above, below in zip(upper, lower, strict=True)]
    return Headings(top, bottom, tuple(texts), ("",) * width, len(table.rows))


def _group_names(table: Table, row: int, width: int) -> list[str]:
    """Return the upper headings; one holds on to the right until the next."""
    found: list[str] = []
    for column in range(width):
        text = _text(table.over(row, column))
        found.append(text or (found[-1] if found else ""))
    return found


def _joined(names: Names, above: str, below: str) -> str:
    """Return the heading that two rows make: the lower one, unless both together say more."""
    if not below:
        return above
    if above == below or names.sense(below).sure:
        return below
    both = f"{above} {below}".strip()
    return both if names.sense(both).sure else below


def _text(cell: Cell) -> str:
    return cell if isinstance(cell, str) else ""


def _is_value(cell: Cell) -> bool:
    """Tell whether a cell holds a value and no words."""
    if cell is None or not isinstance(cell, str):
        return cell is not None
    ways, rest = numbers_in(cell)
    number = bool(ways) and (not rest or bool(unit_of(rest)))
    return number or bool(days_in(cell)) or clock_in(cell) is not None


def _score(headings: Headings, names: Names, told: set[str]) -> float:
    """Return how much a row says of what its columns hold; nought where it names no reading.

    Of two rows that say the same, one row alone and the upper one go before.
    """
    texts = [text for text in headings.texts if text]
    score, reading = 0.0, False
    for text in texts:
        sense = names.sense(text)
        if text.casefold() in told:
            score, reading = score + 3, True
        elif sense.sure:
            measured = names.is_measured(sense.sure)
            score, reading = score + (3 if measured else 2), reading or measured
        elif sense.perhaps and len(texts) > 1:
            score, reading = score + 1, True
    score -= 0.5 * (headings.bottom - headings.top)
    return score - headings.top * 1e-3 if reading else 0.0


def _with_units(table: Table, headings: Headings) -> Headings:
    """Return the headings with the row of units that stands below them, if there is one."""
    below = headings.bottom + 1
    width = len(headings.texts)
    texts = [_text(table.over(below, column)).strip("()[] ") for column in range(width)]
    values = (table.over(below, column) for column in range(width))
    if any(_is_value(cell) for cell in values if not isinstance(cell, str)):
        return headings
    units = [unit_of(text) for text in texts]
    if not any(units) or any(text.strip("-") and not unit for text, unit in
                             zip(texts, units, strict=True)):  # fmt: skip
        return headings
    return replace(headings, bottom=below, units=tuple(units))


def _bounded(table: Table, names: Names, headings: Headings, given: Given) -> Headings:
    """Return the headings with where their readings end; raise InDoubt for a second table."""
    own = {folded(text) for text in headings.texts if text}
    again: set[int] = set()
    others: list[int] = []
    for row in heading_rows(table, names):
        if headings.top <= row <= headings.bottom:
            continue
        texts = {folded(cell) for cell in table.rows[row] if isinstance(cell, str)}
        if texts == own:
            again.add(row)
        else:
            others.append(row)
    if others and not given.header:
        rows = sorted([headings.bottom, *others])
        raise InDoubt(
            Doubt(
                f"Rows {listed([str(row + 1) for row in rows])} of {table.file} all look like "
                "headings.",
                tuple(
                    Choice(
                        f"take row {row + 1}", f"--header {row + 1}", replace(given, header=row + 1)
                    )
                    for row in rows[:9]
                ),
            )
        )
    end = min((row for row in others if row > headings.bottom), default=len(table.rows))
    return replace(headings, end=end, again=frozenset(again))


def heading_rows(table: Table, names: Names) -> Iterator[int]:
    """Yield the rows in which two cells or more name what a column holds, one of them a reading."""
    for row, cells in enumerate(table.rows):
        texts = [cell for cell in cells[:WIDEST] if isinstance(cell, str)]
        if len(texts) < 2 or any(map(_is_value, cells[:WIDEST])):
            continue
        sure = {names.sense(text).sure for text in texts} - {""}
        if len(sure) > 1 and any(names.is_measured(one) for one in sure):
            yield row
