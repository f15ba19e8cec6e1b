"""Small made-up sheets, and how they are read."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("ibis", reason="The batch's libraries are not installed (extra batch).")

from diagnose.batch.reading.data import BatchData
from diagnose.batch.reading.read import read_batch
from diagnose.session.library import Library

HEAD = "Date;Pattern;Heat;Fault;Qty;Remarks"
ROWS = (
    "14/01/2026;P1;12;misrun;2;thin edge",
    "15/01/2026;P1;13;cold shut;1;",
    "15/01/2026;P2;13;misrun;1;",
    "03/02/2026;P2;14;slag;3;",
)
POURED = "Date;Pattern;Heat;Castings poured\n14/1/2026;P1;12;40\n15/1/2026;P1;13;30\n" \
    "15/1/2026;P2;13;20\n3/2/2026;P2;14;25\n"  # fmt: skip


class Desk:
    """A folder with sheets in it, and the reading of them."""

    def __init__(self, folder: Path, library: Library) -> None:
        self.folder = folder
        self.library = library

    def put(self, name: str, content: str | bytes) -> Path:
        path = self.folder / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return path

    def read(self, *rows: str, head: str = HEAD, **how: Any) -> BatchData:
        """Read a scrap sheet of these rows."""
        return self.file(self.put("scrap.csv", "\n".join([head, *rows]) + "\n"), **how)

    def file(self, path: Path, **how: Any) -> BatchData:
        data = read_batch([path], library=self.library, **how)
        assert data.rows.read == data.rows.used + len(data.rows.aside)
        return data


def reasons(data: BatchData) -> dict[int, str]:
    """Return row -> why it was set aside."""
    return {one.row: one.reason for one in data.rows.aside}


def castings(data: BatchData) -> dict[str, float]:
    """Return fault -> castings."""
    return {
        fault: round(float(count), 6)
        for fault, count in zip(data.faults, data.cells.bad.sum(axis=0), strict=True)
        if count
    }


def table(rows: list[list[object]], change: Callable[[Any], None] | None = None) -> bytes:
    """Return an .xlsx workbook with one sheet of these cells."""
    import io

    import openpyxl

    book = openpyxl.Workbook()
    sheet = book.active
    for row in rows:
        sheet.append(row)
    if change:
        change(book)
    into = io.BytesIO()
    book.save(into)
    return into.getvalue()
