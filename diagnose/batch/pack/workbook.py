"""The tables of the pack as one workbook."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from diagnose.batch.pack.tables import RISKY, Cell, Sheet, finite

LONGEST = 32_000
"""Letters of one cell; a workbook takes 32,767."""


def as_workbook(sheets: Sequence[Sheet]) -> bytes:
    """Return a workbook in which every text is a text, whatever it looks like.

    Raises ImportError where openpyxl is not installed.
    """
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.active)
    for sheet in sheets:
        page = book.create_sheet(sheet.name)
        page.freeze_panes = "A2"
        for number, row in enumerate((sheet.headings, *sheet.rows), 1):
            for column, cell in enumerate(row, 1):
                _fill(page.cell(number, column), cell)
    held = io.BytesIO()
    book.save(held)
    return held.getvalue()


def _fill(spot: Any, cell: Cell) -> None:
    """Put a value into a cell; a text is never a formula, also once somebody has edited it."""
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    held = finite(cell)
    if not isinstance(held, str):
        spot.value = held
        return
    text = ILLEGAL_CHARACTERS_RE.sub(" ", held)[:LONGEST]
    spot.value = text
    spot.data_type = "s"
    if text.lstrip().startswith(RISKY) or text.startswith(RISKY):
        spot.quotePrefix = True
