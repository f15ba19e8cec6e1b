"""What a reader of spreadsheets leaves out of an .xlsx: per cents, errors and formulas unworked.

The parts and attributes are those of ECMA-376, Office Open XML, part 1 (SpreadsheetML).
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterator
from posixpath import join, normpath
from xml.etree import ElementTree

PER_CENT = {9, 10}
"""Numbers of the two formats for per cent that every workbook has without naming them."""
UNWORKED = "a formula without its result"
HIDDEN = "hidden"
"""Mark of a row that is not shown; it stands at column -1."""
_CELL = re.compile(r"([A-Z]{1,3})(\d{1,7})")

Marks = dict[str, dict[tuple[int, int], str]]
"""Sheet -> row and column, from nought -> ``%``, the error shown there, UNWORKED or HIDDEN."""


def marks_of(raw: bytes) -> tuple[Marks, bool]:
    """Return the marks of every sheet, and whether the file is of a kind in which they are known.

    A cell that shows ``4.6 %`` holds 0.046; without its format it would be off by a hundred.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as archive:
            if "xl/workbook.xml" not in archive.namelist():
                return {}, False
            per_cent = _per_cent_styles(archive)
            return {
                name: dict(_marks(archive, part, per_cent)) for name, part in _sheet_parts(archive)
            }, True
    except (zipfile.BadZipFile, ElementTree.ParseError, KeyError, ValueError, OSError):
        return {}, False


def _plain_tag(element: ElementTree.Element) -> str:
    return element.tag.rpartition("}")[2]


def _per_cent_styles(archive: zipfile.ZipFile) -> set[str]:
    """Return the numbers of the cell styles that show per cents."""
    if "xl/styles.xml" not in archive.namelist():
        return set()
    formats = set(PER_CENT)
    styles: list[int] = []
    root = ElementTree.fromstring(archive.read("xl/styles.xml"))
    for part in root:
        if _plain_tag(part) == "numFmts":
            formats |= {
                int(one.get("numFmtId", "-1"))
                for one in part
                if "%" in re.sub(r'"[^"]*"|\\.', "", one.get("formatCode", ""))
            }
        elif _plain_tag(part) == "cellXfs":
            styles = [int(one.get("numFmtId", "0")) for one in part]
    return {str(number) for number, style in enumerate(styles) if style in formats}


def _sheet_parts(archive: zipfile.ZipFile) -> Iterator[tuple[str, str]]:
    """Yield the name of every sheet and the part of the archive that holds it."""
    relations = ElementTree.fromstring(archive.read("xl/_rels/workbook.xml.rels"))
    targets = {one.get("Id"): one.get("Target", "") for one in relations}
    for element in ElementTree.fromstring(archive.read("xl/workbook.xml")).iter():
        if _plain_tag(element) == "sheet":
            keys = (value for key, value in element.items() if key.rpartition("}")[2] == "id")
            target = targets.get(next(keys, ""), "")
            part = target.lstrip("/") if target.startswith("/") else normpath(join("xl", target))
            if part in archive.namelist():
                yield element.get("name", ""), part


def _marks(
    archive: zipfile.ZipFile, part: str, per_cent: set[str]
) -> Iterator[tuple[tuple[int, int], str]]:
    row, column = -1, -1
    with archive.open(part) as file:
        for event, element in ElementTree.iterparse(file, ("start", "end")):
            tag = _plain_tag(element)
            if event == "start":
                if tag == "row":
                    row, column = int(element.get("r", row + 2)) - 1, -1
                    if element.get("hidden") in ("1", "true"):
                        yield (row, -1), HIDDEN
                continue
            if tag == "c":
                row, column = _spot(element.get("r", ""), row, column + 1)
                if mark := _mark(element, per_cent):
                    yield (row, column), mark
            if tag == "row":
                element.clear()


def _spot(name: str, row: int, column: int) -> tuple[int, int]:
    """Return where a cell stands; one without a name stands next to the one before."""
    found = _CELL.fullmatch(name)
    if not found:
        return row, column
    number = 0
    for letter in found[1]:
        number = number * 26 + ord(letter) - ord("A") + 1
    return int(found[2]) - 1, number - 1


def _mark(cell: ElementTree.Element, per_cent: set[str]) -> str:
    parts = {_plain_tag(part): part.text or "" for part in cell}
    if cell.get("t") == "e":
        return parts.get("v", "")
    if "f" in parts and not parts.get("v"):
        return UNWORKED
    return "%" if cell.get("s") in per_cent and parts.get("v") else ""
