"""``python -m tests.golden.pareto``: the book's shares of faults beside published scrap tables.

The tables stand in ``pareto/tables.yaml`` with where each is from and how much of it was read. A
line that covers none of the book's faults, or what was left over, is not compared. What is counted
(pieces, weight, share of castings) differs from table to table, and so do the shops.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import yaml

from diagnose.reasoning.prior import shares_of_causes
from diagnose.reasoning.setup import set_up
from diagnose.rulebase.job import Job
from diagnose.rulebase.load import load

TABLES = Path(__file__).parent / "pareto" / "tables.yaml"


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a table: its share of the lines compared, as published and by the book."""

    called: str
    published: float
    book: float


def tables() -> list[dict[str, Any]]:
    """Return the published tables."""
    loaded: list[dict[str, Any]] = yaml.safe_load(TABLES.read_text("utf-8"))
    return loaded


def compared(table: dict[str, Any], shares: dict[str, float]) -> list[Line]:
    """Return the lines of a table that name faults of the book, each kind scaled to one."""
    lines = [line for line in table["rejects"] if line["defects"]]
    whole = sum(line["value"] for line in lines)
    by_book = [sum(shares.get(name, 0.0) for name in line["defects"]) for line in lines]
    return [
        Line(line["called"], line["value"] / whole, share / sum(by_book))
        for line, share in zip(lines, by_book, strict=True)
    ]


def by_table() -> Iterator[tuple[str, list[Line]]]:
    """Yield every table with its lines, beside the book for that metal."""
    book = load()
    known: dict[str | None, dict[str, float]] = {}
    for table in tables():
        metal = table["metal"] if table["metal"] in book.metals else None
        if metal not in known:
            shares = shares_of_causes(set_up(book, Job(metal or "grey iron", "green sand")))
            known[metal] = {name: sum(causes.values()) for name, causes in shares.items()}
        yield table["id"], compared(table, known[metal])


def rank_correlation(lines: list[Line]) -> float:
    """Return Spearman's rank correlation of the published shares and the book's."""
    ranks = [
        np.argsort(np.argsort(values))
        for values in ([line.published for line in lines], [line.book for line in lines])
    ]
    return float(np.corrcoef(*ranks)[0, 1])


def main() -> None:
    """Print the tables and how well the orders agree."""
    found = {}
    for name, lines in by_table():
        print(f"\n{name}")
        for line in sorted(lines, key=lambda line: -line.published):
            print(f"{line.published:8.0%}{line.book:8.0%}  {line.called}")
        if len(lines) > 2:
            found[name] = rank_correlation(lines)
            print(f"rank correlation {found[name]:.2f}")
    print(json.dumps(found))


if __name__ == "__main__":
    main()
