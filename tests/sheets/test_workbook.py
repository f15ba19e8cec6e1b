"""Spreadsheets, held against openpyxl, a general-purpose library that reads and writes them."""

from __future__ import annotations

import io
import random
import time as time_module
import zipfile
from collections.abc import Callable
from contextlib import suppress
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from diagnose.basics.errors import Fault
from diagnose.sheets import workbook
from diagnose.sheets.given import Given
from diagnose.sheets.opened import open_tables
from diagnose.sheets.table import MOST_CELLS, Table, cleaned
from tests.sheets.shop import FILES, read

Write = Callable[..., Path]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """Write a workbook: a list of rows, then anything else that is to be done to it."""

    def make(rows: list[list[Any]], more: Callable[[Any], None] = lambda book: None) -> Path:
        book = openpyxl.Workbook()
        sheet = book.active
        sheet.title = "Sand"
        for row in rows:
            sheet.append(row)
        more(book)
        path = tmp_path / "log.xlsx"
        book.save(path)
        return path

    return make


def one(path: Path) -> Table:
    (table,) = open_tables(path)
    return table


def test_cells_are_what_another_reader_finds(write: Write) -> None:
    draw = random.Random(14)
    rows = [
        [
            draw.choice(["", None, "damp", " Perm\u00a0no ", "017", "4,6"]),
            draw.choice([None, 17, 4.6, -3, 0.1 + 0.2, 1e300]),
            draw.choice([None, date(2026, 3, 14), datetime(2026, 3, 14, 6, 30), time(13, 20)]),
        ]
        for _ in range(60)
    ]
    path = write([[], [None, "Heat", "Temp °C"], *rows])
    table = one(path)
    for row in openpyxl.load_workbook(path).active.iter_rows():
        for cell in row:
            expected: Any = cell.value
            if isinstance(expected, str):
                expected = cleaned(expected)
            if isinstance(expected, datetime) and expected.time() == time.min:
                expected = expected.date()
            assert table.rows[cell.row - 1][cell.column - 1] == expected, cell.coordinate


def test_a_per_cent_cell_is_what_it_shows(write: Write) -> None:
    """A cell that shows 4.6 % holds 0.046: ECMA-376-1, 18.8.30, formats 9 and 10."""

    def formatted(book: Any) -> None:
        for cell, form in (("A2", "0%"), ("B2", "0.00%"), ("C2", '0.0 "%"'), ("D2", "0.0##%")):
            book.active[cell].number_format = form

    table = one(write([["a", "b", "c", "d"], [0.05, 0.046, 4.6, 0.0825]], formatted))
    assert table.rows[1] == ("5 %", "4.6 %", 4.6, "8.25 %")


def test_errors_and_formulas_without_a_result_are_no_empty_cells(write: Write) -> None:
    table = one(write([["a", "b", "c"], ["=1/0", "#N/A", "=A1+1"]]))
    assert table.rows[1] == (
        "a formula without its result", "#N/A", "a formula without its result",
    )  # fmt: skip


def test_a_merged_area_is_known(write: Write) -> None:
    table = one(
        write(
            [["Date", "a", "b"], [date(2026, 3, 14), 1, 2], [None, 3, 4]],
            lambda book: book.active.merge_cells("A2:A3"),
        )
    )
    assert table.cell(2, 0) is None
    assert table.over(2, 0) == table.over(1, 0) == date(2026, 3, 14)


def test_sheets_that_are_hidden_or_hold_charts(write: Write) -> None:
    def more(book: Any) -> None:
        book.create_sheet("Old").sheet_state = "hidden"
        book.create_chartsheet("Chart")
        book.create_sheet("Notes")

    tables = open_tables(write([["a"]], more))
    assert [(table.sheet, table.hidden) for table in tables] == [
        ("Sand", False), ("Old", True), ("Notes", False),
    ]  # fmt: skip


def test_a_sheet_of_an_open_document(tmp_path: Path) -> None:
    """The least that OASIS OpenDocument 1.2 asks for."""
    cells = "".join(
        f'<table:table-cell office:value-type="{kind}"{extra}><text:p>x</text:p></table:table-cell>'
        for kind, extra in (
            ("string", ""),
            ("float", ' office:value="4.6"'),
            ("date", ' office:date-value="2026-03-14"'),
        )
    )
    content = (
        '<?xml version="1.0"?><office:document-content '
        'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
        'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
        'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body>'
        '<office:spreadsheet><table:table table:name="Sand"><table:table-row>'
        f"{cells}</table:table-row></table:table></office:spreadsheet></office:body>"
        "</office:document-content>"
    )
    path = tmp_path / "log.ods"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("content.xml", content)
        archive.writestr(
            "META-INF/manifest.xml",
            '<?xml version="1.0"?><manifest:manifest xmlns:manifest='
            '"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"/>',
        )
    table = one(path)
    assert table.rows[0][:2] == ("x", 4.6)
    assert str(table.rows[0][2])[:10] == "2026-03-14"
    assert "formatted as per cent, save as .xlsx" in table.remarks[1]


def test_a_workbook_of_the_older_kind() -> None:
    """Written by xlwt."""
    sheet = read(FILES / "sand.xls", Given(day=date(2026, 3, 14)))
    assert [(taken.value, taken.unit, taken.cell) for taken in sheet.taken] == [
        (4.6, "%", "C3"), (82.0, "AFS", "D3"),
    ]  # fmt: skip
    assert "formatted as per cent, save as .xlsx" in sheet.remarks[1]


def test_a_locked_workbook_is_told() -> None:
    """Encrypted with a password by msoffcrypto-tool, as MS-OFFCRYPTO lays it down."""
    with pytest.raises(Fault, match=r"locked with a password. Save a copy without"):
        open_tables(FILES / "locked.xlsx")


def test_a_cell_far_out_does_not_take_all_memory(write: Write) -> None:
    path = write([["a"]], lambda book: book.active.cell(1_048_576, 16_384, "z"))
    with pytest.raises(Fault, match="a cell far out makes it huge"):
        open_tables(path)


def test_a_sheet_with_too_many_cells_is_left_unread(write: Write) -> None:
    path = write([["a"]], lambda book: book.active.cell(MOST_CELLS // 2 + 1, 2, "z"))
    table = one(path)
    assert table.rows == ()
    with pytest.raises(Fault, match=f"log.xlsx, sheet Sand: It has more than {MOST_CELLS} cells"):
        read(path)


def test_a_workbook_that_takes_too_long_is_given_up(
    write: Write, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = write([["a"]])
    monkeypatch.setattr(workbook, "PATIENCE", 0.001)
    with pytest.raises(Fault, match="This workbook cannot be read"):
        open_tables(path)


def test_no_module_of_the_folder_at_hand_is_run(
    write: Write, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = write([["perm"], [80]])
    (tmp_path / "json.py").write_text("raise SystemExit(1)", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert one(path).rows == (("perm",), (80.0,))


def archive_of(**parts: bytes) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name.replace("__", "/"), content)
    return made.getvalue()


NO_SPREADSHEETS = {
    "the start of an archive": b"PK\x03\x04",
    "no archive": b"PK\x03\x04 damp",
    "an empty compound file": b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600,
    "an empty archive": archive_of(),
    "a letter": archive_of(**{"word__document.xml": b"<w/>"}),
    "broken off": archive_of(**{"xl__workbook.xml": b"<book", "xl___rels__workbook.xml.rels": b""}),
    "30 MB of nothing": archive_of(**{"xl__workbook.xml": b"\0" * 30_000_000}),
}


@pytest.mark.parametrize("raw", NO_SPREADSHEETS.values(), ids=NO_SPREADSHEETS)
def test_what_is_no_spreadsheet_is_told(tmp_path: Path, raw: bytes) -> None:
    path = tmp_path / "log.xlsx"
    path.write_bytes(raw)
    with pytest.raises(Fault) as fault:
        open_tables(path)
    assert str(path) in str(fault.value)
    assert "save it as" in str(fault.value)


def test_a_damaged_workbook_is_a_table_or_a_fault(write: Write, tmp_path: Path) -> None:
    """A few of the ways in which a stick or a mail can damage a file."""
    raw = write([["Date", "Moisture (%)"], [date(2026, 3, 14), 4.6]]).read_bytes()
    draw = random.Random(7)
    path = tmp_path / "damaged.xlsx"
    for number in range(12):
        damaged = bytearray(raw if number % 2 else raw[: draw.randrange(60, len(raw))])
        for _ in range(number * 3):
            damaged[draw.randrange(4, len(damaged))] = draw.randrange(256)
        path.write_bytes(damaged)
        with suppress(Fault):
            assert all(isinstance(table, Table) for table in open_tables(path))


def test_areas_merged_over_each_other_take_no_longer_than_their_cells(
    write: Write, tmp_path: Path
) -> None:
    """A file of a few thousand bytes that laid half a million cells down two thousand times."""

    def merge(book: Any) -> None:
        for row in range(1, 2001):
            book.active.merged_cells.add(f"A{row}:XFD{row + 29}")

    path = write([["Moisture (%)"], [4.6]], merge)
    begun = time_module.monotonic()
    (table,) = open_tables(path)
    assert time_module.monotonic() - begun < 15
    assert table.over(0, 0) == "Moisture (%)"
