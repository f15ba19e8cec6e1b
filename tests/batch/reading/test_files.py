"""Files of every kind that shops have, and of kinds that nobody should hand to a program."""

from __future__ import annotations

import io
import time
import zipfile
from datetime import date, datetime
from typing import Any

import numpy as np
import pytest

from diagnose.basics.errors import Fault
from diagnose.batch.reading import bigfile
from diagnose.batch.reading.given import Given
from tests.batch.quarter import FOLDER
from tests.batch.reading.sheets import HEAD, POURED, ROWS, Desk, castings, reasons, table

TEXT = "\n".join([HEAD, *ROWS]) + "\n"
RIGHT = {"misrun": 3.0, "cold-shut": 1.0, "slag-inclusion": 3.0}
CELLS: list[list[object]] = [
    ["Date", "Pattern", "Heat", "Fault", "Qty"],
    [date(2026, 1, 14), "P1", 12, "misrun", 2],
    [date(2026, 1, 15), "P1", 13, "cold shut", 1],
    [None, "P2", 13, "misrun", 1],
    [datetime(2026, 2, 3, 14, 30), "P2", 14, "slag", 3],
]


@pytest.mark.parametrize(
    "content",
    [
        TEXT.encode(),
        TEXT.encode("utf-16"),
        TEXT.replace("\n", "\r\n").encode(),
        TEXT.replace(";", "\t").encode(),
        TEXT.replace(";", ",").encode(),
        TEXT.replace(";", "|").encode(),
        b"sep=;\r\n" + TEXT.encode(),
        b"\xef\xbb\xbf" + TEXT.encode(),
        ("Scrap of the works\n\n" + TEXT).encode(),
    ],
    ids=["plain", "utf-16", "windows", "tabs", "commas", "strokes", "sep", "mark", "title"],
)
def test_text_is_read_however_it_was_saved(desk: Desk, content: bytes) -> None:
    assert castings(desk.file(desk.put("scrap.csv", content))) == RIGHT


def test_letters_of_western_europe_are_read(desk: Desk) -> None:
    text = "Date;Pattern;Moulder;Fault\n14/01/2026;Geh\u00e4use;J\u00fcrgen;Kernbruch\n"
    data = desk.file(desk.put("scrap.csv", text.encode("cp1252")))
    assert data.levels["moulder"] == ("J\u00fcrgen",)
    assert data.levels["pattern"] == ("Geh\u00e4use",)
    assert castings(data) == {"core-broken": 1.0}


def test_decimal_commas_of_weights_are_proved_by_the_sheet(desk: Desk) -> None:
    head = "Date;Pattern;Fault;Wt kg;Cost \u20ac"
    data = desk.read("14/01/2026;P1;misrun;1,250;3,5", "15/01/2026;P1;slag;12,5;1,20", head=head)
    assert data.cells.weight is not None
    assert data.cells.cost is not None
    assert data.cells.weight.sum() == pytest.approx(13.75)
    assert data.cells.cost.sum() == pytest.approx(4.7)


def test_a_number_that_could_be_two_is_asked_about(desk: Desk) -> None:
    head, row = "Date;Pattern;Fault;Wt kg", "14/01/2026;P1;misrun;1,250"
    with pytest.raises(Fault, match=r"'1,250' may be 1250 or 1.25.*--decimal comma"):
        desk.read(row, head=head)
    told = desk.read(row, head=head, given=Given(decimal=","))
    assert told.cells.weight is not None
    assert told.cells.weight.sum() == 1.25


def test_pounds_and_weights_of_one_casting_become_the_weight_of_the_row(desk: Desk) -> None:
    data = desk.read("14/01/2026;P1;misrun;3;10", head="Date;Pattern;Fault;Qty;Casting weight lb")
    assert data.cells.weight is not None
    assert data.cells.weight.sum() == pytest.approx(3 * 10 * 0.45359237)


def test_a_workbook_with_merged_and_hidden_cells_is_read(desk: Desk) -> None:
    def change(book: Any) -> None:
        sheet = book.active
        sheet.merge_cells("A3:A4")  # one date for two rows
        sheet.row_dimensions[5].hidden = True
        notes = book.create_sheet("Notes")
        notes.append(["nothing of interest"])
        secret = book.create_sheet("Old")
        for row in CELLS:
            secret.append(row)
        secret.sheet_state = "hidden"

    data = desk.file(desk.put("scrap.xlsx", table(CELLS, change)))
    assert castings(data) == RIGHT
    assert data.lines.day[1] == data.lines.day[2] == date(2026, 1, 15).toordinal()
    assert data.lines.minute[3] == 14 * 60 + 30
    told = " ".join(data.warnings)
    assert "1 rows are hidden" in told
    assert "'Old' is hidden and was left out" in told
    assert "'Notes' was left out" in told


def test_a_formula_without_its_result_is_set_aside(desk: Desk) -> None:
    rows = [*CELLS[:3], [date(2026, 1, 16), "P2", 13, "slag", "=1+1"]]
    data = desk.file(desk.put("scrap.xlsx", table(rows)))
    assert reasons(data) == {4: "a formula without its result"}


def test_one_workbook_may_hold_everything(desk: Desk) -> None:
    def change(book: Any) -> None:
        book.active.title = "Scrap"
        poured = book.create_sheet("Poured")
        for line in POURED.splitlines():
            cells = line.split(";")
            poured.append([*cells[:3], int(cells[3]) if cells[3].isdecimal() else cells[3]])
        sand = book.create_sheet("Sand")
        sand.append(["Date", "Time", "Moisture %"])
        sand.append([date(2026, 1, 14), "06:30", 3.6])
        pareto = book.create_sheet("Pareto")
        pareto.append(["Fault", "Count"])
        pareto.append(["misrun", 3])

    data = desk.file(desk.put("all.xlsx", table([*CELLS[:3], *CELLS[4:]], change)))
    assert castings(data) == {"misrun": 2.0, "cold-shut": 1.0, "slag-inclusion": 3.0}
    assert data.cells.poured is not None
    assert data.cells.poured.sum() == 115.0
    assert data.readings is not None
    assert data.readings.quantities == ("sand-moisture",)
    assert any("taken for a summary" in text for text in data.warnings)
    assert {kind for _, kind, _ in data.accounts} == {"scrap", "poured", "readings"}


def test_a_second_table_below_the_first_is_not_counted_twice(desk: Desk) -> None:
    data = desk.read(*ROWS, "", "Reason;Total;;;;", "misrun;3;;;;", "slag;3;;;;")
    assert castings(data) == RIGHT
    second = "a second table below the first"
    assert reasons(data) == {7: f"headings of {second}", 8: second, 9: second}


def parquet(rows: list[list[object]]) -> bytes:
    import pyarrow as pa
    from pyarrow import parquet as pq

    columns = list(zip(*rows[1:], strict=True))
    into = io.BytesIO()
    pq.write_table(pa.table(dict(zip(map(str, rows[0]), map(list, columns), strict=True))), into)
    return into.getvalue()


def test_parquet_is_read(desk: Desk) -> None:
    rows = [row if row[0] != datetime(2026, 2, 3, 14, 30) else [date(2026, 2, 3), *row[1:]]
            for row in CELLS]  # fmt: skip
    data = desk.file(desk.put("scrap.parquet", parquet(rows)), given=Given(carry=True))
    assert castings(data) == RIGHT
    assert data.levels["heat"] == ("12", "13", "14")


def test_ods_is_read(desk: Desk) -> None:
    data = desk.file(desk.put("scrap.ods", ods(CELLS)), given=Given(carry=True))
    assert castings(data) == RIGHT


MANIFEST = (
    '<?xml version="1.0"?><manifest:manifest '
    'xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"><manifest:file-entry '
    'manifest:full-path="/" manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/>'
    "</manifest:manifest>"
)


def ods(rows: list[list[object]]) -> bytes:
    """A spreadsheet as OpenDocument has it (OASIS ODF 1.2): as little as makes one."""

    def cell(value: object) -> str:
        if value is None:
            return "<table:table-cell/>"
        if isinstance(value, date):
            day = value.date() if isinstance(value, datetime) else value
            return f'<table:table-cell office:value-type="date" office:date-value="{day}"/>'
        if isinstance(value, int):
            return f'<table:table-cell office:value-type="float" office:value="{value}"/>'
        text = f"<text:p>{value}</text:p>"
        return f'<table:table-cell office:value-type="string">{text}</table:table-cell>'

    body = "".join(f"<table:table-row>{''.join(map(cell, row))}</table:table-row>" for row in rows)
    names = " ".join(
        f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
        for name in ("office", "table", "text")
    )
    content = (
        f'<?xml version="1.0"?><office:document-content {names}><office:body><office:spreadsheet>'
        f'<table:table table:name="Scrap">{body}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    into = io.BytesIO()
    with zipfile.ZipFile(into, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("content.xml", content)
        archive.writestr("META-INF/manifest.xml", MANIFEST)
    return into.getvalue()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "cp1252"])
def test_a_large_file_is_read_like_a_small_one(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, encoding: str
) -> None:
    """The quarter's own sheet, read whole and batch by batch, with an umlaut far down."""
    raw = (FOLDER / "scrap.csv").read_text(encoding="cp1252")
    lines = raw.splitlines()
    lines = [line for line in lines[: lines.index("Reason;Total")] if line]
    lines[-20] = lines[-20].replace(";KB", ";J\u00fcrgen KB").replace(";TP", ";J\u00fcrgen TP")
    path = desk.put("scrap.csv", "\r\n".join(lines).encode(encoding))
    whole = desk.file(path)
    monkeypatch.setattr(bigfile, "MANY_CELLS", 100)
    monkeypatch.setattr(bigfile, "BLOCK", 30_000)
    assert bigfile.is_big(path)
    batches = desk.file(path)
    assert reasons(batches) == reasons(whole)
    assert batches.faults == whole.faults
    assert batches.levels == whole.levels
    for name in ("codes", "day", "bad", "weight"):
        assert np.array_equal(getattr(batches.cells, name), getattr(whole.cells, name)), name
    assert [one.text for one in batches.words] == [one.text for one in whole.words]


def test_rows_of_another_width_are_told(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    rows = (ROWS[0], "15/01/2026;P1;13;misrun;1", "16/01/2026;P1;13;slag;1;a;b;c", *ROWS[1:])
    for many in (10_000, 5):
        monkeypatch.setattr(bigfile, "MANY_CELLS", many)
        data = desk.read(*rows)
        assert reasons(data) == {4: "it has 8 cells under 6 headings"}
        assert castings(data) == RIGHT | {"misrun": 4.0}
        assert data.lines.row.tolist() == [2, 3, 5, 6, 7]


# what nobody should hand to a program: a clear message, soon


def refused(desk: Desk, name: str, content: bytes | None, match: str) -> None:
    if content is not None:
        desk.put(name, content)
    begin = time.monotonic()
    with pytest.raises(Fault, match=match):
        desk.file(desk.folder / name)
    assert time.monotonic() - begin < 60


def bomb(inside: str) -> bytes:
    """A zip of half a megabyte that unpacks to half a gigabyte."""
    into = io.BytesIO()
    with zipfile.ZipFile(into, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", "<Types/>")
        with archive.open(inside, "w") as file:
            for _ in range(500):
                file.write(b" " * 1_000_000)
    return into.getvalue()


@pytest.mark.parametrize(
    ("name", "content", "match"),
    [
        ("a.xlsx", b"PK\x03\x04 and nothing else", "not a spreadsheet|damaged"),
        ("a.csv", b"", "The file is empty"),
        ("a.csv", bytes(range(256)) * 50, "neither a spreadsheet nor plain text"),
        ("a.html", b"<html><table><tr><td>Fault</td></tr></table>", "a web page or XML"),
        ("a.parquet", b"PAR1" + b"\0" * 100 + b"PAR1", "damaged"),
        ("a.csv", b"only,words\nhere,there\n", "No heading of this sheet is understood"),
        ("a.csv", (";".join(f"h{n}" for n in range(5000)) + "\n1" * 3).encode(), "5000 columns"),
        ("a.csv", HEAD.encode() + b"\n", "no row below the headings"),
    ],
    ids=["zip", "empty", "binary", "page", "parquet", "no heading", "5000 columns", "no row"],
)
def test_what_is_no_sheet_is_refused(desk: Desk, name: str, content: bytes, match: str) -> None:
    refused(desk, name, content, match)


@pytest.mark.parametrize("inside", ["xl/workbook.xml", "content.xml"])
def test_a_zip_that_unpacks_without_end_is_refused(desk: Desk, inside: str) -> None:
    refused(desk, "bomb.xlsx", bomb(inside), "not a spreadsheet|damaged|huge")


def test_two_gigabytes_of_nothing_are_refused_at_once(desk: Desk) -> None:
    """A file with a hole in it: it takes no room on the disk."""
    for name, start in (("a.csv", b"Date;Fault\n"), ("a.xlsx", b"PK\x03\x04"), ("b.csv", b"")):
        with (desk.folder / name).open("wb") as file:
            file.write(start)
            file.truncate(2_000_000_000)
        refused(desk, name, None, "neither a spreadsheet|bigger than|no end|damaged")


def test_more_than_is_read_is_refused(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    with (desk.folder / "a.csv").open("wb") as file:
        file.truncate(bigfile.MOST_BYTES + 1)
    refused(desk, "a.csv", None, "bigger than 4 GB")
    monkeypatch.setattr(bigfile, "MANY_CELLS", 5)
    monkeypatch.setattr(bigfile, "MOST_ROWS", 3)
    refused(desk, "b.csv", TEXT.encode(), "more than 3 rows")


def test_a_quotation_mark_that_is_never_closed_ends_soon(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bigfile, "MANY_CELLS", 5)
    monkeypatch.setattr(bigfile, "BLOCK", 20_000)
    rows = [f"14/01/2026;P1;{n};misrun;1;" for n in range(5000)]
    rows[1000] = '14/01/2026;P1;7;misrun;1;"far end'
    refused(desk, "a.csv", "\n".join([HEAD, *rows]).encode(), "quotation mark")


def test_a_missing_file_and_a_folder_are_named(desk: Desk) -> None:
    refused(desk, "none.csv", None, "There is no such file")
    (desk.folder / "folder").mkdir()
    refused(desk, "folder", None, "This is a folder")
