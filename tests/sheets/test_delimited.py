"""Text files: any separator, any of the usual encodings; the csv module is the yardstick."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.basics.errors import Fault
from diagnose.sheets.delimited import SIGNS, read_delimited
from diagnose.sheets.opened import LIMIT, open_tables
from diagnose.sheets.table import MOST_CELLS, Table, cleaned

ROWS = (("heat", "temp °C", "remark"), ("17", "1371", "slow, and dull"), ("18", "1382", None))
PLAIN = 'heat;temp °C;remark\n17;1371;"slow, and dull"\n18;1382;\n'


def written(rows: list[list[str]], sign: str) -> str:
    """The rows as the csv module writes them."""
    text = io.StringIO()
    csv.writer(text, delimiter=sign).writerows(rows)
    return text.getvalue()


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        (PLAIN.encode(), "UTF-8, columns parted by semicolons"),
        (PLAIN.encode("utf-8-sig"), "UTF-8, columns parted by semicolons"),
        (PLAIN.encode("latin-1"), "(cp1252), columns parted by semicolons"),
        (PLAIN.encode("utf-16"), "UTF-16, columns parted by semicolons"),
        (PLAIN.replace("\n", "\r\n").encode(), "semicolons"),
        (PLAIN.replace("\n", "\r").encode(), "semicolons"),
        (PLAIN.replace(";", "\t").encode(), "tabs"),
        (PLAIN.replace(";", "|").encode(), "upright strokes"),
        (PLAIN.replace(";", ",").encode(), "commas"),
    ],
)
def test_the_same_table_however_it_was_saved(raw: bytes, told: str) -> None:
    table = read_delimited(raw, "log.csv")
    assert table.rows == ROWS
    assert told in table.remarks[0]


def test_a_first_line_may_name_the_separator() -> None:
    table = read_delimited(b"sep=;\na,b;c,d\n1,5;2,5\n", "x.csv")
    assert table.rows == ((), ("a,b", "c,d"), ("1,5", "2,5"))


def test_decimal_commas_do_not_part_columns() -> None:
    table = read_delimited(b"moisture;clay;LOI\n4,6;7,1;4,0\n4,4;7,3;4,1\n", "x.csv")
    assert table.rows[1] == ("4,6", "7,1", "4,0")


def test_titles_above_do_not_hide_the_separator() -> None:
    table = read_delimited(b"Sand laboratory\n\nDate,Heat\n1,2\n3,4\n", "x.csv")
    assert table.rows[2] == ("Date", "Heat")


def test_rows_count_as_in_a_spreadsheet() -> None:
    """A line break within quotation marks does not begin a row, an empty line does."""
    table = read_delimited(b'a;b\n\n"two\nlines";c\n', "x.csv")
    assert table.rows == (("a", "b"), (), ("two lines", "c"))


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (b"", "The file is empty."),
        (b"\xef\xbb\xbf\r\n \n", "The file is empty."),
        (b"\x7fELF\x01\x02", "neither a spreadsheet nor plain text"),
        (b"heat;temp\n17;\x00\x01", "neither a spreadsheet nor plain text"),
        (b"\x81\x8d\x8f heat", "neither a spreadsheet nor plain text"),
        (b"%PDF-1.7\n\x00\x80", "neither a spreadsheet nor plain text"),
        (b"<html><table><tr><td>heat", "a web page or XML"),
        (b'<?xml version="1.0"?><Workbook/>', "a web page or XML"),
        (b'a;b\n1;2\n"3;4\n5;6\n', "Row 3 is not a row of a table"),
        (b'a;b\n"1"x;2\n', "Row 2 is not a row of a table"),
        (b"a;b\n" + b"1;2\n" * (MOST_CELLS // 2), f"more than {MOST_CELLS} cells"),
    ],
)
def test_what_is_no_table_is_told(tmp_path: Path, raw: bytes, says: str) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(raw)
    with pytest.raises(Fault) as fault:
        open_tables(path)
    assert says in str(fault.value)
    assert str(fault.value).startswith(str(path))


def test_a_file_of_50_mb_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    with pytest.raises(Fault, match=f"bigger than {LIMIT / 1e6:g} MB"):
        open_tables(path)


@pytest.mark.parametrize(("name", "says"), [("none.csv", "no such file"), ("", "is a folder")])
def test_a_file_that_is_not_there(tmp_path: Path, name: str, says: str) -> None:
    with pytest.raises(Fault, match=says):
        open_tables(tmp_path / name)


CELL = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=12)


@given(st.sampled_from(sorted(SIGNS)), st.lists(st.lists(CELL, min_size=2, max_size=5), min_size=1))
def test_what_the_csv_module_writes_reads_back(sign: str, rows: list[list[str]]) -> None:
    table = read_delimited(f"sep={sign}\n{written(rows, sign)}".encode(), "x.csv")
    assert list(table.rows[1:]) == [tuple(map(cleaned, row)) for row in rows]


NUMBER = st.decimals(0, 2000, places=1).map(str)


@given(
    st.sampled_from(sorted(SIGNS)),
    st.lists(st.lists(NUMBER, min_size=4, max_size=4), min_size=2, max_size=8),
)
def test_the_separator_of_a_table_of_numbers_is_found(sign: str, rows: list[list[str]]) -> None:
    if sign != ",":
        rows = [[cell.replace(".", ",") for cell in row] for row in rows]
    text = written([["Date", "Heat", "Moisture", "Perm"], *rows], sign)
    assert list(read_delimited(text.encode(), "x.csv").rows[1:]) == [tuple(row) for row in rows]


@settings(max_examples=300)
@given(st.binary(max_size=300))
def test_any_bytes_are_a_table_or_a_fault(raw: bytes) -> None:
    try:
        table = read_delimited(raw, "x.csv")
    except Fault:
        return
    assert isinstance(table, Table)
    assert all(cell is None or str(cell).isprintable() for row in table.rows for cell in row)
