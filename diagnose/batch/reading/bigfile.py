"""Large text files, and Parquet: read batch by batch, every column kept as numbers of its values.

A file of ten million rows is never held as text: a batch of a few megabytes is, and of the rest
for each cell the number of its value.
"""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import dataclass, field
from io import StringIO
from pathlib import Path
from typing import Any

import numpy as np

from diagnose.basics.errors import Fault, Place, Problem
from diagnose.batch.reading.data import Codes
from diagnose.batch.reading.grid import BESIDE, Coded, Grid, headed
from diagnose.rulebase.plaintext import bytes_of
from diagnose.sheets.delimited import read_delimited
from diagnose.sheets.headrows import Headings
from diagnose.sheets.opened import LIMIT
from diagnose.sheets.table import Cell, Table, cleaned

MANY_CELLS = 60_000
"""Cells of a text file from which it is read batch by batch."""
MOST_BYTES = 4_000_000_000
MOST_ROWS = 20_000_000
"""Bytes and rows of a file of text or Parquet that are read."""
MOST_VALUES = 2_000_000
"""Different values of a column; one with more tells nothing by which rows could be counted."""
MOST_BROKEN = 200_000
"""Rows of another width than the headings that are told one by one."""
BLOCK = 16_000_000
"""Bytes that are read at a time; no row may be longer."""
HEAD_BYTES, HEAD_ROWS = 1_000_000, 300
"""From how much the headings are found."""
PARQUET = b"PAR1"
_WORKBOOKS = (b"PK\x03\x04", b"PK\x05\x06", b"\xd0\xcf\x11\xe0")

Tell = Callable[[float], None]


@dataclass(frozen=True, slots=True)
class Big:
    """A large table: its first rows, and how to read all of them below the headings."""

    head: Table
    grid: Callable[[Headings], Grid]
    remarks: tuple[str, ...] = ()


@dataclass(slots=True)
class _Column:
    """One column as it grows: each value once, and the numbers of the rows' own."""

    numbers: dict[Any, int] = field(default_factory=dict)
    codes: list[Codes] = field(default_factory=list)
    wild: bool = False

    def add(self, array: Any) -> None:
        """Add the cells of one batch."""
        import pyarrow as pa

        if pa.types.is_dictionary(array.type):
            array = array.cast(array.type.value_type)
        if self.wild:
            self.codes.append(np.full(len(array), -1, dtype=np.int32))
            return
        encoded = array.dictionary_encode()
        own = [self.number(value) for value in encoded.dictionary.to_pylist()]
        places = encoded.indices.fill_null(len(own)).to_numpy(zero_copy_only=False)
        self.codes.append(np.array([*own, -1], dtype=np.int32)[places])
        self.wild = len(self.numbers) > MOST_VALUES

    def number(self, value: Any) -> int:
        """Return the number of a value, -1 for an empty one."""
        cell = _cell(value)
        return -1 if cell is None else self.numbers.setdefault(cell, len(self.numbers))

    def coded(self, order: Any) -> Coded:
        """Return the column in the order of its rows; one that ran wild is empty."""
        codes = np.concatenate([*self.codes, np.zeros(0, np.int32)])[order]
        if self.wild:
            return Coded(np.full(len(codes), -1, dtype=np.int32), [])
        first = np.full(len(self.numbers) + 1, len(codes), dtype=np.int64)
        np.minimum.at(first, codes, np.arange(len(codes)))
        in_turn = np.argsort(first[:-1], kind="stable")
        in_turn = in_turn[first[in_turn] < len(codes)]
        place = np.full(len(first), -1, dtype=np.int32)
        place[in_turn] = np.arange(len(in_turn), dtype=np.int32)
        values = list(self.numbers)
        return Coded(place[codes], [values[number] for number in in_turn])


def is_big(path: Path) -> bool:
    """Tell whether a file is read batch by batch: Parquet, and text of many cells.

    Raises Fault for one that is missing, or bigger than anything that is read.
    """
    name = str(path)
    if not path.is_file():
        bytes_of(path, name, LIMIT)  # says what is wrong with it
    size = path.stat().st_size
    with path.open("rb") as file:
        start = file.read(8)
    if start.startswith(_WORKBOOKS):
        return False
    if size > MOST_BYTES:
        what = f"The file is bigger than {MOST_BYTES / 1e9:g} GB."
        raise Fault(Problem(Place(name), what, "Split it, by year for example."))
    if start.startswith(PARQUET) or size > LIMIT:
        return True
    raw = path.read_bytes()
    return raw.count(b"\n") + max(raw.count(sign) for sign in (b";", b",", b"\t")) > MANY_CELLS


def big_table(path: Path, tell: Tell | None = None) -> Big:
    """Return a large table. ``tell``: is told the share that is read.

    Raises Fault for a file that is no table, is damaged, or has more rows than are read.
    """
    with path.open("rb") as file:
        parquet = file.read(4) == PARQUET
    return _parquet(path, tell) if parquet else _text(path, tell)


def _text(path: Path, tell: Tell | None) -> Big:
    name = str(path)
    with path.open("rb") as file:
        raw = file.read(HEAD_BYTES)
    end = raw.rfind(b"\n")
    if end < 0:
        raise _fault(name, "Its first row has no end.", "Save it as CSV, with a row a line.")
    wide = raw.startswith((b"\xff\xfe", b"\xfe\xff"))
    raw = raw[: end + (2 if wide and raw.startswith(b"\xff\xfe") else 1)]
    rows = raw.split(b"\n\x00" if wide else b"\n")[:HEAD_ROWS]
    head = read_delimited((b"\n\x00" if wide else b"\n").join(rows), name)
    encoding = "utf-16" if wide else "cp1252" if "cp1252" in head.remarks[0] else "utf-8"
    sign = next((s for s, called in _SIGNS.items() if called in head.remarks[0]), ",")

    def grid(headings: Headings) -> Grid:
        try:
            return _grid_of_text(path, sign, encoding, headings, tell)
        except UnicodeDecodeError:
            return _grid_of_text(path, sign, "cp1252", headings, tell)

    return Big(head, grid, head.remarks)


_SIGNS = {"\t": "tabs", ";": "semicolons", "|": "upright strokes", ",": "commas"}


def _grid_of_text(
    path: Path, sign: str, encoding: str, headings: Headings, tell: Tell | None
) -> Grid:
    import pyarrow as pa
    from pyarrow import csv as text

    names = [f"c{number}" for number in range(headed(headings))]
    odd: list[tuple[int, str]] = []

    def other_width(row: Any) -> str:
        if len(odd) > MOST_BROKEN:
            return "error"
        odd.append((int(row.number), row.text))
        return "skip"

    columns = [_Column() for _ in names]
    size = path.stat().st_size
    with pa.OSFile(str(path)) as file:
        try:
            reader = text.open_csv(
                file,
                text.ReadOptions(use_threads=False, column_names=names, encoding=encoding,
                                 block_size=BLOCK),
                text.ParseOptions(delimiter=sign, newlines_in_values=True, ignore_empty_lines=False,
                                  invalid_row_handler=other_width),
                text.ConvertOptions(column_types=dict.fromkeys(names, "string"), null_values=[""],
                                    strings_can_be_null=True),
            )  # fmt: skip
            count = 0
            for batch in reader:
                count += batch.num_rows
                if count > MOST_ROWS:
                    raise _too_many(str(path))
                for column, array in zip(columns, batch.columns, strict=True):
                    column.add(array)
                if tell:
                    tell(file.tell() / size)
        except pa.ArrowInvalid as error:
            if "UTF8" in str(error) and encoding == "utf-8":
                raise UnicodeDecodeError("utf-8", b"", 0, 1, str(error)) from None
            raise _broken(str(path), error, len(odd)) from None
    return _grid(columns, count, odd, sign, headings)


def _grid(
    columns: list[_Column], count: int, odd: list[tuple[int, str]], sign: str, headings: Headings
) -> Grid:
    """Return the rows below the headings, those of another width put back in their places."""
    numbers = np.arange(1, count + len(odd) + 1, dtype=np.int32)
    strange = np.array([number for number, _ in odd], dtype=np.int32)
    rows = np.setdiff1d(numbers, strange, assume_unique=True)
    short, broken = [], []
    longer = sum(line.count(sign) >= len(columns) for _, line in odd)
    beyond = longer > BESIDE * (count + len(odd))
    for number, line in odd:
        cells = next(csv.reader(StringIO(line), delimiter=sign), [])
        while len(cells) > len(columns) and not cells[-1].strip():
            cells.pop()
        if number <= headings.bottom + 1:
            continue
        if len(cells) > len(columns) and not beyond:
            why = f"it has {len(cells)} cells under {len(columns)} headings"
            broken.append((number, why, line[:100]))
        else:
            cells = cells[: len(columns)]
            short.append((number, cells + [""] * (len(columns) - len(cells))))
    for place, column in enumerate(columns):
        own = [column.number(cells[place]) for _, cells in short]
        column.codes.append(np.array(own, dtype=np.int32))
    rows = np.concatenate([rows, np.array([number for number, _ in short], dtype=np.int32)])
    order = np.argsort(rows, kind="stable")
    order = order[rows[order] > headings.bottom + 1]
    return _filled([column.coded(order) for column in columns], rows[order], headings,
                   tuple(broken), [column.wild for column in columns])  # fmt: skip


def _filled(
    columns: list[Coded], rows: Codes, headings: Headings,
    broken: tuple[tuple[int, str, str], ...], wild: list[bool],
) -> Grid:  # fmt: skip
    """Return the rows in which anything stands."""
    any_cell = np.zeros(len(rows), dtype=bool)
    for column in columns:
        any_cell |= column.codes >= 0
    if not any_cell.all():
        columns = [Coded(column.codes[any_cell], column.values) for column in columns]
    again = np.ones(int(any_cell.sum()), dtype=bool)
    for column, text in zip(columns, headings.texts, strict=False):
        place = column.values.index(text) if text in column.values else -2
        again &= column.codes == (place if text else -1)
    remarks = tuple(
        f"Column {text!r} has more than {MOST_VALUES:,} different values; it was left out."
        for text, one in zip(headings.texts, wild, strict=False)
        if one and text
    )
    return Grid(rows[any_cell], again, lambda number, _over: columns[number], broken, remarks)


def _parquet(path: Path, tell: Tell | None) -> Big:
    import pyarrow as pa
    from pyarrow import parquet

    try:
        file = parquet.ParquetFile(path)
        names = list(file.schema_arrow.names)
        if file.metadata.num_rows > MOST_ROWS:
            raise _too_many(str(path))
        sizes = [file.metadata.row_group(n).total_byte_size for n in range(file.num_row_groups)]
        if max(sizes, default=0) > MOST_BYTES:
            raise _fault(str(path), "It unpacks to more than is read.", "Write smaller row groups.")
        first = next(file.iter_batches(HEAD_ROWS), None)
    except (pa.ArrowException, OSError, ValueError) as error:
        raise _broken(str(path), error, 0) from None
    rows = [tuple(names)] + [tuple(map(_cell, row.values())) for row in (
        first.to_pylist() if first is not None else [])]  # fmt: skip

    def grid(headings: Headings) -> Grid:
        columns = [_Column() for _ in names]
        count = 0
        try:
            for batch in file.iter_batches(1 << 17):
                for column, array in zip(columns, batch.columns, strict=True):
                    column.add(_plain(array))
                count += batch.num_rows
                if tell:
                    tell(count / file.metadata.num_rows)
        except (pa.ArrowException, OSError, ValueError) as error:
            raise _broken(str(path), error, 0) from None
        numbers = np.arange(2, count + 2, dtype=np.int32)
        coded = [column.coded(np.arange(count)) for column in columns]
        return _filled(coded[: len(headings.texts)], numbers, headings, (), [
            column.wild for column in columns][: len(headings.texts)])  # fmt: skip

    return Big(Table(str(path), tuple(rows)), grid, ("A Parquet file.",))


def _plain(array: Any) -> Any:
    """Return an array whose values can be told apart; lists and the like become nothing."""
    import pyarrow as pa

    return pa.nulls(len(array)) if pa.types.is_nested(array.type) else array


def _cell(value: Any) -> Cell:
    """Return a value of a file as a cell of a sheet."""
    from datetime import date, datetime, time
    from decimal import Decimal

    if isinstance(value, str):
        return cleaned(value)
    if isinstance(value, bool):
        return str(value).upper()
    if isinstance(value, int | float | Decimal):
        return float(value) if value == value else None
    if isinstance(value, datetime):
        return value.replace(tzinfo=None)
    return value if isinstance(value, date | time) else None


def _too_many(name: str) -> Fault:
    return _fault(name, f"It has more than {MOST_ROWS:,} rows.", "Split it, by year for example.")


def _broken(name: str, error: Exception, odd: int) -> Fault:
    if odd > MOST_BROKEN:
        what = f"More than {MOST_BROKEN:,} rows have another number of cells than the headings."
        return _fault(name, what, "Look what parts its columns.")
    plain = cleaned(str(error)) or "no reason given"
    what = f"It is damaged, or a quotation mark is never closed ({plain[:150]})."
    return _fault(name, what, "Save it again as CSV, or look for the mark.")


def _fault(name: str, what: str, instead: str) -> Fault:
    return Fault(Problem(Place(name), what, instead))
