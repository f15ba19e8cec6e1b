"""Open a file of any kind that the shop may have and return its tables."""

from __future__ import annotations

import re
from pathlib import Path

from diagnose.basics.errors import Fault, Place, Problem
from diagnose.rulebase.plaintext import bytes_of
from diagnose.sheets.table import Table

LIMIT = 10_000_000
"""Bytes; the sheets of a small works for ten years are smaller."""
_MARKED_UP = re.compile(rb"(\xef\xbb\xbf)?\s*<[?!a-zA-Z]")


def open_tables(path: Path | str) -> list[Table]:
    """Return the tables of a file: one of a text file, every sheet of a workbook.

    What the file is, is told by its first bytes and not by its name. Raises Fault for what cannot
    be read.
    """
    name = str(path)
    raw = bytes_of(Path(path), name, LIMIT)
    if raw.startswith((b"PK\x03\x04", b"PK\x05\x06", b"\xd0\xcf\x11\xe0")):
        from diagnose.sheets.workbook import read_workbook

        return read_workbook(raw, name)
    here = Place(name)
    if not raw.strip(b"\xef\xbb\xbf\xff\xfe \t\r\n\0"):
        raise Fault(Problem(here, "The file is empty.", "Is it the right one?"))
    if _MARKED_UP.match(raw):
        what = "This is a web page or XML, whatever its name says."
        raise Fault(Problem(here, what, "Open it in a spreadsheet, and save it as .xlsx or CSV."))
    from diagnose.sheets.delimited import read_delimited

    return [read_delimited(raw, name)]
