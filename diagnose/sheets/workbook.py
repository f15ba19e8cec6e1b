"""Read the tables of a spreadsheet, safely: the reading itself is done in another process."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import diagnose
from diagnose.basics.errors import Fault, Place, Problem
from diagnose.sheets.table import MOST_CELLS, Cell, Spot, Table, cleaned

PATIENCE = 60
"""Seconds after which the reading of a workbook is given up."""
PER_CENT = (
    "Numbers in % are taken as they are. If the cells are formatted as per cent, save as .xlsx."
)
_KINDS: dict[str, Callable[[str], Cell]] = {
    "datetime": datetime.fromisoformat,
    "date": date.fromisoformat,
    "time": time.fromisoformat,
}


def read_workbook(raw: bytes, name: str) -> list[Table]:
    """Return the sheets of an .xlsx, .xlsm, .xls or .ods file.

    Raises Fault for a workbook that is locked, damaged, or too big to be a shop's table.
    """
    here = Place(name)
    found = _cells(raw)
    if found is None:
        what = "This workbook cannot be read: it is damaged, or a cell far out makes it huge."
        way_out = "Delete the empty rows and columns round the table, or save it as CSV."
        raise Fault(Problem(here, what, way_out))
    if found.get("refused") == "locked":
        what = "This workbook is locked with a password."
        raise Fault(Problem(here, what, "Save a copy without the password."))
    if why := found.get("refused"):
        what = f"This is not a spreadsheet that can be read ({cleaned(why)})."
        raise Fault(Problem(here, what, "Open it, and save it as .xlsx or CSV."))
    return [_table(sheet, name, found["marks known"]) for sheet in found["sheets"]]


def _cells(raw: bytes) -> dict[str, Any] | None:
    """Return what the other process read, or None where it came to grief.

    It takes no module from the folder in which the program runs (-P).
    """
    home = str(Path(diagnose.__file__).parent.parent)
    paths = os.pathsep.join([home, *filter(None, [os.environ.get("PYTHONPATH")])])
    try:
        done = subprocess.run(
            [sys.executable, "-P", "-m", "diagnose.sheets.cells"],
            input=raw, capture_output=True, timeout=PATIENCE, check=False,
            env=os.environ | {"PYTHONPATH": paths},
        )  # fmt: skip
        read = json.loads(done.stdout) if done.returncode == 0 else None
    except (subprocess.TimeoutExpired, ValueError):
        return None
    return read if isinstance(read, dict) else None


def _table(sheet: dict[str, Any], name: str, marks_known: bool) -> Table:
    remarks = [f"Sheet {cleaned(sheet['name'])!r} of the workbook."]
    unread = f"It has more than {MOST_CELLS} cells." if sheet["big"] else ""
    if not marks_known:
        remarks.append(PER_CENT)
    covered = _covered(sheet["merged"])
    rows = tuple(tuple(map(_cell, row)) for row in sheet["rows"])
    title = cleaned(sheet["name"]) or ""
    hidden_rows = frozenset(sheet["hidden rows"])
    return Table(name, rows, title, covered, tuple(remarks), sheet["hidden"], unread, hidden_rows)


def _covered(merged: list[tuple[Spot, Spot]]) -> dict[Spot, Spot]:
    """Return the first cell of the area that each cell is merged into, for areas up to a bound.

    Areas that lie on each other count each by itself, or a small file could keep us for hours.
    """
    covered: dict[Spot, Spot] = {}
    room = MOST_CELLS
    for (top, left), (bottom, right) in merged:
        inside = (bottom - top + 1) * (right - left + 1)
        if 0 < inside <= room:
            room -= inside
            covered |= {
                (row, column): (top, left)
                for row in range(top, bottom + 1)
                for column in range(left, right + 1)
            }
    return covered


def _cell(plain: Any) -> Cell:
    if isinstance(plain, dict):
        ((kind, text),) = plain.items()
        return _KINDS[kind](text)
    return cleaned(plain) if isinstance(plain, str) else plain
