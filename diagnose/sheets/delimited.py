"""Read a table from a text file whose columns are parted by a sign."""

from __future__ import annotations

import csv
import re
from collections import Counter
from io import StringIO
from itertools import islice

from diagnose.basics.errors import Fault, Place, Problem
from diagnose.sheets.table import MOST_CELLS, Cell, Table, cleaned

SIGNS = {"\t": "tabs", ";": "semicolons", "|": "upright strokes", ",": "commas"}
"""What may part columns, in the order in which they are preferred."""
SAMPLE = 200
"""Rows from which it is judged what parts the columns."""
_NAMED_SIGN = re.compile(r"sep=([\t;|,])\s*?(\r\n|\r|\n|\Z)", re.IGNORECASE)
_STEERING = re.compile(r"[\x00-\x08\x0e-\x19\x1b-\x1f]")


def read_delimited(raw: bytes, name: str) -> Table:
    r"""Return the table that a text file holds.

    UTF-8, UTF-16 with a mark at its start, and the letters of Western Europe are understood.
    Raises Fault for what is no such text.

    >>> table = read_delimited(b"heat;moisture\n17;4,6\n", "sand.csv")
    >>> table.rows[1], table.remarks
    (('17', '4,6'), ('Text in UTF-8, columns parted by semicolons.',))
    """
    text, letters = _decoded(raw, name)
    named = _NAMED_SIGN.match(text)
    sign = named[1] if named else _sign(text)
    above: list[tuple[Cell, ...]] = [()] if named else []
    rows = _rows(text[named.end() :] if named else text, sign, name, above)
    parted = f"columns parted by {SIGNS[sign]}" if sign else "one column"
    return Table(name, tuple(rows), remarks=(f"Text in {letters}, {parted}.",))


def _decoded(raw: bytes, name: str) -> tuple[str, str]:
    """Return the text and what its letters are called."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        tries = [("utf-16", "UTF-16")]
    else:
        tries = [("utf-8-sig", "UTF-8"), ("cp1252", "the letters of Western Europe (cp1252)")]
    for encoding, called in tries:
        try:
            text = raw.decode(encoding)
        except UnicodeDecodeError:
            continue
        if not _STEERING.search(text):
            return text, called
    what = "This is neither a spreadsheet nor plain text."
    raise _fault(name, what, "Save it as .xlsx, or as CSV in UTF-8.")


def _sign(text: str) -> str:
    """Return the sign that parts most rows into the same number of columns; empty for none."""
    best, most = "", 0
    for sign in SIGNS:
        reader = csv.reader(StringIO(text, newline=""), delimiter=sign)
        try:
            widths = Counter(len(row) for row in islice(reader, SAMPLE) if any(row))
        except csv.Error:
            continue
        alike = max((count for width, count in widths.items() if width > 1), default=0)
        if alike > most:
            best, most = sign, alike
    return best


def _rows(text: str, sign: str, name: str, rows: list[tuple[Cell, ...]]) -> list[tuple[Cell, ...]]:
    """Add the rows of a text; a fault names the one in which the text stops being a table."""
    reader = csv.reader(StringIO(text, newline=""), delimiter=sign or "\x1f", strict=True)
    cells = 0
    while True:
        try:
            row = next(reader, None)
        except csv.Error as error:
            what = f"Row {len(rows) + 1} is not a row of a table ({error})."
            raise _fault(name, what, "Look for a quotation mark too many or too few.") from None
        if row is None:
            return rows
        cells += len(row)
        if cells > MOST_CELLS:
            what = f"There are more than {MOST_CELLS} cells."
            raise _fault(name, what, "Keep the rows that matter.")
        rows.append(tuple(cleaned(cell) for cell in row))


def _fault(name: str, what: str, instead: str) -> Fault:
    return Fault(Problem(Place(name), what, instead))
