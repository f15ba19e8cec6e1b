"""The tables of the pack, as headings and rows; how a text is made safe for table programs."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from diagnose.batch.actions import Action
from diagnose.batch.charts.concentration import place
from diagnose.batch.result import Batch
from diagnose.batch.told import name_of

Cell = str | float | int | None
RISKY = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""What makes a table program take a text for a formula, also in its full-width form."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One table: its name, headings and rows."""

    name: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def tables(batch: Batch, actions: Sequence[Action]) -> list[Sheet]:
    """Return the tables of a batch: Pareto, places, readings, rows set aside, words, actions."""
    return [*_findings(batch), *_accounts(batch, actions)]


def _findings(batch: Batch) -> Iterator[Sheet]:
    yield from (
        Sheet(
            "pareto",
            ("defect", "name", "castings", "share", "low", "high", "weight_kg", "cost"),
            tuple(
                (o.defect, o.name, o.count, o.share, o.low, o.high, o.weight, o.cost)
                for o in batch.pareto
            ),
        ),
        Sheet(
            "concentration",
            ("defect", "name", "where", "factor", "level", "bad", "poured", "rate",
             "rate_elsewhere", "ratio", "low", "high", "p", "q"),
            tuple(
                (o.defect, name_of(batch, o.defect), place(o), o.factor, o.level, o.bad, o.poured,
                 o.rate, o.rate_elsewhere, o.ratio, o.low, o.high, o.p, o.q)
                for o in batch.concentration
            ),
        ),
        Sheet(
            "readings",
            ("defect", "name", "quantity", "per", "unit", "odds_ratio", "low", "high", "lag", "p",
             "q"),
            tuple(
                (o.defect, name_of(batch, o.defect), o.name, o.per, o.unit, o.odds_ratio, o.low,
                 o.high, o.lag, o.p, o.q)
                for o in batch.readings
            ),
        ),
    )  # fmt: skip


def _accounts(batch: Batch, actions: Sequence[Action]) -> Iterator[Sheet]:
    yield from (
        Sheet(
            "set-aside",
            ("sheet", "row", "reason", "text"),
            tuple((o.sheet, o.row, o.reason, o.text) for o in batch.rows.aside),
        ),
        Sheet(
            "unknown-words",
            ("word", "count", "nearest", "chance"),
            tuple((o.word, o.count, *(o.nearest[0] if o.nearest else ("", None)))
                  for o in batch.unknown_words),
        ),
        Sheet(
            "actions",
            ("text", "owner", "due", "defect", "cause", "agreed"),
            tuple(
                (o.text, o.owner, str(o.due or ""), o.defect, o.cause, str(o.agreed or ""))
                for o in actions
            ),
        ),
    )  # fmt: skip


def safe(cell: Cell) -> Cell:
    """Return a cell that no table program takes for a formula; a number stays a number.

    >>> safe("=1+1"), safe("-3"), safe(-3.0), safe(" @x"), safe("moulder B")
    ("'=1+1", "'-3", -3.0, "' @x", 'moulder B')
    """
    if isinstance(cell, str) and (cell.startswith(RISKY) or cell.lstrip().startswith(RISKY)):
        return f"'{cell}"
    return cell


def finite(cell: Cell) -> Cell:
    """Return a cell in which what is beyond all numbers is said in words.

    >>> finite(float("inf")), finite(float("nan")), finite(0.5)
    ('beyond measure', '', 0.5)
    """
    if isinstance(cell, float) and cell != cell:
        return ""
    if isinstance(cell, float) and cell in (float("inf"), float("-inf")):
        return "beyond measure"
    return cell


def as_csv(sheet: Sheet) -> bytes:
    """Return a table as CSV in UTF-8; every text is quoted, so that no other separator parts it."""
    held = io.StringIO(newline="")
    writer = csv.writer(held, quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow(sheet.headings)
    for row in sheet.rows:
        writer.writerow([safe(finite(cell)) if cell is not None else "" for cell in row])
    return held.getvalue().encode("utf-8-sig")
