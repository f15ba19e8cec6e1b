"""What was made of a sheet, in words for people and as data for machines."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from diagnose.basics.layout import Line, Section
from diagnose.sheets.columns import Column
from diagnose.sheets.reading import Sheet
from diagnose.sheets.readings import Taken, age_in_words

MOST_ROWS = 20
"""Rows that are listed one by one."""


def sheet_in_words(sheet: Sheet, *, doubts: bool = True) -> list[Section]:
    """Return what was recognised and what was read. ``doubts``: also what is not settled."""
    sections = [_table(sheet), Section("Columns", tuple(_columns(sheet)))]
    if doubts and sheet.doubts:
        lines = [
            Line(text, "  " if number == 0 else "      ")
            for doubt in sheet.doubts
            for number, text in enumerate(doubt.lines())
        ]
        sections.append(Section("Not settled, and left out until it is", tuple(lines)))
    if sheet.picked:
        more = [Line(f"and {len(sheet.picked) - MOST_ROWS} more", "  ")]
        rows = [Line(str(row), "  ") for row in sheet.picked[:MOST_ROWS]]
        rows += more * (len(sheet.picked) > MOST_ROWS)
        sections.append(Section("Rows", tuple(rows)))
        sections.append(Section("Readings", tuple(_readings(sheet))))
    return sections


def _table(sheet: Sheet) -> Section:
    headings = sheet.layout.headings
    rows = f"row {headings.top + 1}"
    if headings.bottom > headings.top:
        rows = f"rows {headings.top + 1} to {headings.bottom + 1}"
    count = len(sheet.rows)
    below = f"Headings in {rows}, {count} row{'' if count == 1 else 's'} below."
    return Section(sheet.layout.table.file, tuple(Line(text, "  ")
                   for text in (below, *sheet.remarks)))  # fmt: skip


def _columns(sheet: Sheet) -> Iterator[Line]:
    for column in sheet.layout.columns:
        yield Line(_column(sheet, column), f"  {column.letters:<2}  ")


def _column(sheet: Sheet, column: Column) -> str:
    if not column.means:
        return f"{column.heading}: {column.why}"
    meaning = sheet.names.called(column.means)
    unit = f", in {column.unit}" if column.unit else ""
    likeness = {"alike": " (the heading is like it)", "told": " (as you said)"}
    return f"{column.heading}: {meaning}{unit}{likeness.get(column.how, '')}"


def _readings(sheet: Sheet) -> Iterator[Line]:
    for means in dict.fromkeys(taken.means for taken in sheet.taken):
        told = "; ".join(_reading(taken) for taken in sheet.taken if taken.means == means)
        yield Line(f"{sheet.names.called(means)}: {told}", "  ")
    if not sheet.taken:
        yield Line("None: the cells are empty, or their columns are left out.", "  ")


def _reading(taken: Taken) -> str:
    beside = (taken.cell, age_in_words(taken))
    return f"{taken.text} ({', '.join(text for text in beside if text)})"


def as_data(sheet: Sheet) -> dict[str, Any]:
    """Return all of it as plain data; ages in minutes and days before the pouring."""
    table, headings = sheet.layout.table, sheet.layout.headings
    return {
        "file": table.file,
        "sheet": table.sheet,
        "headings": [headings.top + 1, headings.bottom + 1],
        "columns": [
            {
                "column": column.letters, "heading": column.heading, "holds": column.means,
                "unit": column.unit, "how": column.how, "why": column.why,
            }
            for column in sheet.layout.columns
        ],
        "doubts": [
            {"say": doubt.say, "ways": [
                {"option": choice.option, "words": choice.words} for choice in doubt.choices
            ]}
            for doubt in sheet.doubts
        ],
        "remarks": list(sheet.remarks),
        "rows": [row.number + 1 for row in sheet.picked],
        "readings": [_reading_data(taken) for taken in sheet.taken],
    }  # fmt: skip


def _reading_data(taken: Taken) -> dict[str, Any]:
    row = taken.row
    return {
        "id": taken.means,
        "value": taken.value,
        "unit": taken.unit,
        "cell": taken.cell,
        "row": row.number + 1,
        "date": row.day.isoformat() if row.day else None,
        "time": row.clock.isoformat("minutes") if row.clock else None,
        "minutes_before_pouring": taken.age.total_seconds() / 60 if taken.age is not None else None,
        "days_before_pouring": taken.days,
    }
