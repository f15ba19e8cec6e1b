"""Read the cells of a spreadsheet and print them as JSON: run in a process of its own.

A damaged or hostile file can make any reader take all memory or stop dead; here it stops only
this process, whose memory and time are limited. Cells are data and nothing else: no formula is
worked out, no macro is run and no object is made.
"""

from __future__ import annotations

import io
import json
import math
import sys
from contextlib import suppress
from datetime import date, datetime, time, timedelta
from typing import Any

from diagnose.sheets.cellmarks import HIDDEN, marks_of
from diagnose.sheets.table import MOST_CELLS

MEMORY = 1_500_000_000
"""Bytes that reading may take."""
SECONDS = 30
"""Seconds of work that reading may take."""

LOCKED = "EncryptedPackage".encode("utf-16-le")
"""Name of the part that holds a workbook encrypted as MS-OFFCRYPTO lays it down."""


def main() -> None:
    """Read a workbook from standard input and print its sheets."""
    _limit()
    print(json.dumps(_read(sys.stdin.buffer.read())))


def _limit() -> None:
    with suppress(ImportError):  # not on every system
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))


def _read(raw: bytes) -> dict[str, Any]:
    """Return the sheets, or under ``refused`` why there are none."""
    import python_calamine as calamine

    try:
        workbook = calamine.load_workbook(io.BytesIO(raw))
        marks, known = marks_of(raw)
        sheets = [
            _sheet(workbook.get_sheet_by_index(number), marks.get(about.name, {}))
            | {"hidden": about.visible != calamine.SheetVisibleEnum.Visible}
            for number, about in enumerate(workbook.sheets_metadata)
            if about.typ == calamine.SheetTypeEnum.WorkSheet
        ]
    except calamine.PasswordError:
        return {"refused": "locked"}
    except calamine.CalamineError as error:
        return {"refused": "locked" if LOCKED in raw else str(error)}
    return {"sheets": sheets, "marks known": known}


def _sheet(sheet: Any, marks: dict[tuple[int, int], str]) -> dict[str, Any]:
    """Return one sheet as JSON; one that is too big without its cells."""
    last = sheet.end or (-1, -1)
    big = (last[0] + 1) * (last[1] + 1) > MOST_CELLS
    rows = [] if big else sheet.to_python(skip_empty_area=False)
    return {
        "name": sheet.name,
        "big": big,
        "rows": [
            [_plain(cell, marks.get((r, c), "")) for c, cell in enumerate(row)]
            for r, row in enumerate(rows)
        ],
        "merged": sheet.merged_cell_ranges or [],
        "hidden rows": sorted({row for (row, _), mark in marks.items() if mark == HIDDEN}),
    }


def _plain(cell: Any, mark: str) -> Any:
    """Return a cell as JSON: text, a number, or a date or time under its kind."""
    if mark == "%" and isinstance(cell, int | float):
        return f"{cell * 100:.12g} %"
    if mark not in ("", "%"):
        return mark
    if isinstance(cell, bool):
        return str(cell).upper()
    if isinstance(cell, int | float):
        return float(cell) if math.isfinite(cell) else str(cell)
    if isinstance(cell, timedelta):
        within_a_day = timedelta(0) <= cell < timedelta(days=1)
        return {"time": (datetime.min + cell).time().isoformat()} if within_a_day else str(cell)
    for kind in (datetime, date, time):
        if isinstance(cell, kind):
            return {kind.__name__: cell.isoformat()}
    return str(cell)


if __name__ == "__main__":
    main()
