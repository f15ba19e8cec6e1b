"""The tables of the files of a batch, with what their columns hold."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from diagnose.basics.errors import Fault
from diagnose.basics.nearest import did_you_mean
from diagnose.batch.reading.given import Given
from diagnose.batch.reading.grid import Grid, grid_of, text_of
from diagnose.batch.reading.layout import SCRAP, Columns, Page
from diagnose.batch.reading.senses import COUNT_OF, BatchNames
from diagnose.batch.result import Rows, SetAside
from diagnose.sheets.given import Given as Said
from diagnose.sheets.given import InDoubt, listed
from diagnose.sheets.headrows import Headings, find_headings, heading_rows
from diagnose.sheets.opened import open_tables
from diagnose.sheets.table import Table, shown

MOST_COLUMNS = 300
"""Columns of a table that are looked at; a column for each fault takes a hundred."""
PLACES = ("date", "date found", "pattern", "heat", "plate", "moulder")
"""What a sheet of rejects says of them, and a summary of it does not."""


@dataclass(slots=True)
class Found:
    """The tables of one file: those that are read, rows that are not, and what to know."""

    pages: list[Page] = field(default_factory=list)
    unread: list[Rows] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def pages_of(
    path: Path, as_kind: str, names: BatchNames, columns: Columns, given: Given,
    tell: Callable[[float], None] | None = None,
) -> Found:  # fmt: skip
    """Return the tables of a file. ``as_kind``: what it was given as, or empty.

    ``tell``: is told which share of a large file is read.

    Raises Fault where none of them can be read.
    """
    from diagnose.batch.reading.bigfile import big_table, is_big

    found = Found()
    if is_big(path):
        big = big_table(path, tell)
        found.remarks += big.remarks
        _add(found, big.head, names, columns, as_kind, big.grid)
        return _some(found, path, [big.head])
    tables = open_tables(path)
    for table in _wanted(tables, path, given, found):
        found.remarks += [text for text in table.remarks if "%" not in text and not table.sheet]
        _add(found, table, names, columns, as_kind, None)
    return _some(found, path, tables)


def _wanted(tables: list[Table], path: Path, given: Given, found: Found) -> Iterator[Table]:
    """Yield the sheets of a workbook that are meant: those named, or all that are shown."""
    titles = {table.sheet.casefold(): table for table in tables}
    named = [title for title in given.sheets if title.casefold() in titles]
    if given.sheets and not named and len(tables) > 1:
        known = [table.sheet for table in tables]
        raise Fault(f"{path}: {did_you_mean(given.sheets[0], known, 'sheet')}")
    for table in tables:
        if named and table.sheet.casefold() not in {title.casefold() for title in named}:
            continue
        if table.hidden and not named and len(tables) > 1:
            found.remarks.append(f"Sheet {table.sheet!r} is hidden and was left out.")
            continue
        yield table


def _add(
    found: Found, table: Table, names: BatchNames, columns: Columns, as_kind: str,
    make: object,
) -> None:  # fmt: skip
    where = f"{table.file}, sheet {table.sheet}" if table.sheet else table.file
    if table.width > MOST_COLUMNS:
        what = f"It has {table.width} columns; at most {MOST_COLUMNS} are read."
        raise table.fault(what, "Keep the columns that matter.")
    try:
        blocks = blocks_of(table, names, columns)
    except Fault:
        if as_kind or not table.sheet:
            raise
        found.remarks.append(f"Sheet {table.sheet!r} was left out: no heading is understood.")
        return
    kinds: set[str] = set()
    for headings in blocks:
        grid: Grid = make(headings) if callable(make) else grid_of(table, headings)
        if headings is not blocks[0]:
            found.unread.append(_of_headings(table, headings, where))
        if headings is not blocks[0] and not len(grid.rows):
            continue
        page = columns.page(where, headings.texts, headings.units, grid, "" if kinds else as_kind)
        if not page.kind or page.kind in kinds:
            found.unread.append(_unread(page, bool(kinds)))
            continue
        kinds.add(page.kind)
        found.pages.append(page)


def _of_headings(table: Table, headings: Headings, where: str) -> Rows:
    """Return the account of the headings of a second table: rows below the first ones."""
    why = "headings of a second table below the first"
    aside = tuple(
        SetAside(where, row + 1, why, text_of(table, row))
        for row in range(headings.top, headings.bottom + 1)
        if any(cell is not None for cell in table.rows[row])
    )
    return Rows(len(aside), 0, aside)


def _unread(page: Page, below: bool) -> Rows:
    """Return the account of a table of which no row is used."""
    why = "a second table below the first" if below else "a table of something else"
    columns = [page.grid.column(held.number, False) for held in page.columns]
    aside = []
    for place, row in enumerate(page.grid.rows):
        cells = (c.values[c.codes[place]] for c in columns if c.codes[place] >= 0)
        aside.append(SetAside(page.where, int(row), why, " | ".join(map(shown, cells))))
    return Rows(len(aside), 0, tuple(aside))


def blocks_of(table: Table, names: BatchNames, columns: Columns) -> list[Headings]:
    """Return the headings of a table, and of others that stand below it."""
    told = tuple((heading, holds) for heading, holds in {**columns.kept, **columns.told}.items())
    try:
        first = find_headings(table, names, Said(columns=told))
    except InDoubt:
        rows = [row for row in heading_rows(table, names) if _tells(table, row, names)]
        if not rows:
            raise
        first = find_headings(table, names, Said(columns=told, header=rows[0] + 1))
    below = [
        row
        for row in heading_rows(table, names)
        if row > first.bottom and row not in first.again and _tells(table, row, names)
    ]
    blocks = [first, *(find_headings(table, names, Said(header=row + 1)) for row in below)]
    ends = [*below, len(table.rows)]
    return [replace(one, end=end) for one, end in zip(blocks, ends, strict=True)]


def _tells(table: Table, row: int, names: BatchNames) -> bool:
    """Tell whether a row names more than faults: words of faults alone may be a row of rejects."""
    texts = [cell for cell in table.rows[row] if isinstance(cell, str)]
    found = {names.sense(text).sure for text in texts} - {""}
    return any(not one.startswith(COUNT_OF) for one in found)


def _some(found: Found, path: Path, tables: list[Table]) -> Found:
    """Return what was found without summaries; raise Fault where nothing is left."""
    placed = [page for page in found.pages if any(page.holding(holds) for holds in PLACES)]
    for page in list(found.pages):
        if page.kind == SCRAP and placed and page not in placed:
            found.pages.remove(page)
            found.remarks.append(
                f"{page.where} has neither dates nor patterns; taken for a summary."
            )
    if not found.pages:
        texts = [shown(cell) for table in tables for row in table.rows[:1] for cell in row if cell]
        seen = f" Its first row says {listed([repr(t) for t in texts[:8]])}." if texts else ""
        raise Fault(f"{path}: no table of castings scrapped, poured or of readings is in it.{seen} "
                    "Say what a column holds, such as --column 'Fehler=fault'.")  # fmt: skip
    return found
