"""Read a file of the shop for one reject: from its tables to the readings that are meant."""

from __future__ import annotations

from collections.abc import Callable, Generator, Sequence
from dataclasses import dataclass, replace

from diagnose.basics.errors import Fault
from diagnose.basics.nearest import did_you_mean
from diagnose.rulebase.book import Book
from diagnose.sheets.columns import Layout, lay_out
from diagnose.sheets.given import Choice, Doubt, Given, InDoubt, listed, on_command_line
from diagnose.sheets.names import Names
from diagnose.sheets.picking import pick, which_rows
from diagnose.sheets.readings import Taken, readings_in
from diagnose.sheets.rows import Row, rows_of
from diagnose.sheets.table import Table


@dataclass(frozen=True, slots=True)
class Sheet:
    """What was made of a sheet.

    ``names``: of what columns may hold. ``rows``: all of them. ``picked``: those that are meant,
    none as long as that was not said. ``taken``: their readings. ``doubts``: what has still to be
    asked, and is left out until then. ``remarks``: what to know beside.
    """

    layout: Layout
    names: Names
    rows: tuple[Row, ...]
    picked: tuple[Row, ...]
    taken: tuple[Taken, ...]
    doubts: tuple[Doubt, ...]
    remarks: tuple[str, ...]


def read_sheet(tables: Sequence[Table], book: Book, given: Given | None = None) -> Sheet:
    """Read the readings of one reject from the tables of a file.

    Raises Fault for everything that is wrong with the table or with what was said of it, and
    InDoubt for a doubt without whose answer nothing can be read.
    """
    given = given or Given()
    names = Names(book)
    table = _table(tables, names, given)
    layout = lay_out(table, names, given)
    rows = rows_of(layout, given)
    doubts = [*layout.doubts, *rows.doubts]
    picked: list[Row] = []
    even = [row for row in rows.rows if not row.odd]
    if given.picks or len(even) == 1:
        picked = pick(layout, rows.rows, given)
    elif even:
        doubts.append(which_rows(even, given))
    taken = readings_in(layout, picked, names, given)
    if given.only_poured:
        used = {one.row.number for one in taken}
        picked = [row for row in picked if row.number in used]
    remarks = (*table.remarks, *rows.remarks)
    return Sheet(layout, names, rows.rows, tuple(picked), tuple(taken), tuple(doubts), remarks)


def settling(
    tables: Sequence[Table], book: Book, given: Given
) -> Generator[Doubt, Given | None, Sheet]:
    """Read a sheet, yielding every doubt about it; returns the sheet once none is left.

    Each is to be answered with what is known then, or None to leave out what it is about. Raises
    InDoubt where nothing can be read without an answer that was not given.
    """
    passed: set[str] = set()
    while True:
        try:
            sheet = read_sheet(tables, book, given)
        except InDoubt as unread:
            known = yield unread.doubt
            if known is None:
                raise
            given = known
            continue
        doubt = next((one for one in sheet.doubts if one.say not in passed), None)
        if doubt is None:
            return sheet
        known = yield doubt
        if known is None:
            passed.add(doubt.say)
        given = known or given


def settled(
    tables: Sequence[Table], book: Book, given: Given, choose: Callable[[Doubt], Given | None]
) -> Sheet:
    """Read a sheet; ``choose`` answers every doubt about it, as ``settling`` wants it."""
    steps = settling(tables, book, given)
    known: Given | None = None
    while True:
        try:
            known = choose(steps.send(known))
        except StopIteration as end:
            sheet: Sheet = end.value
            return sheet


def _table(tables: Sequence[Table], names: Names, given: Given) -> Table:
    """Return the sheet that is meant: the one named, or the only one that holds readings."""
    if given.sheet:
        wanted = given.sheet.casefold()
        known = {table.sheet.casefold(): table for table in tables}
        if wanted not in known:
            titles = [table.sheet for table in tables if table.sheet]
            way_out = did_you_mean(given.sheet, titles, "sheet")
            raise Fault(f"There is no sheet called {given.sheet!r}. {way_out}")
        return known[wanted]
    shown = [table for table in tables if not table.hidden] or list(tables)
    if len(shown) == 1:
        return shown[0]
    holding = [table for table in shown if _holds_readings(table, names, given)]
    if len(holding) == 1:
        return replace(holding[0], remarks=(*holding[0].remarks, "No other sheet has readings."))
    if not holding:
        named = listed([repr(table.sheet) for table in shown])
        raise Fault(f"No heading is understood as a reading in any of the sheets {named}. "
                    "Say which sheet it is with --sheet, and see what it says.")  # fmt: skip
    raise InDoubt(
        Doubt(
            f"There are readings in {len(holding)} sheets.",
            tuple(
                Choice(table.sheet, f"--sheet {on_command_line(table.sheet)}",
                       replace(given, sheet=table.sheet))
                for table in holding[:9]
            ),
        )
    )  # fmt: skip


def _holds_readings(table: Table, names: Names, given: Given) -> bool:
    try:
        lay_out(table, names, replace(given, columns=()))
    except InDoubt:
        return True
    except Fault:
        return False
    return True
