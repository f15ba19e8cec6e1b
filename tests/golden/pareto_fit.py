"""``python -m tests.golden.pareto_fit``: how common every fault would be by all the tables at once.

Each fault has one factor on its share by the book. The factors are those that bring the shares
nearest to all published tables together (least squares on the logarithms of the shares), where a
factor of two is as much as the book's own figures are in doubt, and where tables differ from one
another by as much as they do. The four tables of one works count as one. A line for all that was
left over, in a table of whole rejects, is compared with the faults that no other line names. A line
that names no fault in a table of parts is left out, and so is one with nothing in it.

What it prints says how far a fault's share is clear of the tables' own disagreement. A factor is a
hint to whoever judges the book, never written into it: no table that could be read is of a jobbing
foundry in green sand.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import yaml
from numpy.typing import NDArray

from diagnose.reasoning.prior import shares_of_causes
from diagnose.reasoning.setup import set_up
from diagnose.rulebase.job import Job
from diagnose.rulebase.load import load
from tests.golden.pareto import TABLES

Floats = NDArray[np.float64]

MORE = TABLES.with_name("more-tables.yaml")
BOOK_IN_DOUBT = float(np.log(2))  # of a fault's share by the book, as scale.yaml says of its words
WHOLE = ("other", "rest of", "all other")  # how a table names what was left over
SPREAD_AT_FIRST = BOOK_IN_DOUBT, 4.0  # of the tables; as sure as that many lines would make it
ROUNDS = 60


@dataclass(frozen=True, slots=True)
class Table:
    """A table as sums of faults: row by row its share as published, and which faults it holds."""

    id: str
    works: str
    called: tuple[str, ...]
    published: Floats
    holds: Floats


def shares_by_book(metal: str = "grey iron") -> dict[str, float]:
    """Return each fault's share of all rejects, by the book, in green sand."""
    shares = shares_of_causes(set_up(load(), Job(metal, "green sand")))
    return {name: sum(causes.values()) for name, causes in shares.items()}


def read(faults: list[str], paths: tuple[Path, ...] = (TABLES, MORE)) -> list[Table]:
    """Return the tables of iron that have two lines or more to compare."""
    raw = [entry for path in paths for entry in yaml.safe_load(path.read_text("utf-8"))]
    found = [as_sums(entry, faults) for entry in raw if entry["metal"] != "aluminium"]
    return [table for table in found if len(table.called) > 1]


def as_sums(entry: dict[str, Any], faults: list[str]) -> Table:
    """Return a table with what was left over as the sum of the faults that no line names."""
    named = {name for line in entry["rejects"] for name in line["defects"]}
    lines = []
    for line in entry["rejects"]:
        holds = [name in line["defects"] for name in faults]
        if not line["defects"] and line["called"].startswith(WHOLE):
            holds = [name not in named for name in faults]
        if any(holds) and line["value"] > 0:
            lines.append((line["called"], line["value"], holds))
    return Table(
        entry["id"],
        entry.get("works", entry["id"]),
        tuple(called for called, _, _ in lines),
        np.array([value for _, value, _ in lines]) / sum(value for _, value, _ in lines),
        np.array([holds for _, _, holds in lines], float),
    )


def by_book(table: Table, shares: Floats) -> Floats:
    """Return the shares of a table's lines by these shares of the faults; they add up to one."""
    sums = table.holds @ shares
    result: Floats = sums / sums.sum()
    return result


def misses(tables: list[Table], shares: Floats) -> list[Floats]:
    """Return, table by table, the logarithm of published over expected share of each line."""
    return [np.log(table.published / by_book(table, shares)) for table in tables]


def weights(tables: list[Table]) -> Floats:
    """Return what each table counts: all tables of one works together as one."""
    works = Counter(table.works for table in tables)
    return np.array([1 / works[table.works] for table in tables])


def fitted(tables: list[Table], shares: Floats) -> tuple[Floats, Floats, float]:
    """Return the logarithm of each fault's factor, its standard error, and the tables' spread.

    The spread (of a line of one table about the fit, as a logarithm) is found with the factors: the
    squares that are left, over the lines that the factors did not use up.
    """
    factors, (spread, lines) = np.zeros(len(shares)), SPREAD_AT_FIRST
    at_first = lines * spread**2
    each = weights(tables)
    doubt = np.eye(len(shares)) / BOOK_IN_DOUBT**2
    for _ in range(ROUNDS):
        now = shares * np.exp(factors)
        told, pull = np.zeros_like(doubt), -factors / BOOK_IN_DOUBT**2
        squares = freedom = 0.0
        for table, missed, weight in zip(tables, misses(tables, now), each, strict=True):
            slope = slopes(table, now)
            told += weight * slope.T @ slope / spread**2
            pull += weight * slope.T @ missed / spread**2
            squares += weight * float(missed @ missed)
            freedom += weight * (len(missed) - 1)
        curve = np.linalg.inv(told + doubt)
        factors = factors + 0.5 * curve @ pull
        left = max(0.0, freedom - float(np.trace(curve @ told)))
        spread = float(np.sqrt((squares + at_first) / (left + lines)))
    return factors, np.sqrt(np.diag(curve)), spread


def slopes(table: Table, shares: Floats) -> Floats:
    """Return how the logarithm of each line's share moves with that of each fault's share."""
    parts = table.holds * shares
    whole = parts.sum(axis=0) / parts.sum()
    result: Floats = parts / parts.sum(axis=1, keepdims=True) - whole
    return result


def correlation(table: Table, shares: Floats) -> float:
    """Return Spearman's rank correlation of the published and the expected shares."""
    ranks = [np.argsort(np.argsort(values)) for values in (table.published, by_book(table, shares))]
    return float(np.corrcoef(*ranks)[0, 1])


def foretold(tables: list[Table], shares: Floats) -> tuple[float, float]:
    """Return the mean error (as a logarithm) on tables of works the fit has not seen.

    First by the book alone, then by the book with the factors of all the other works.
    """
    squares = np.zeros(2)
    lines = 0.0
    for works in {table.works for table in tables}:
        seen = [table for table in tables if table.works != works]
        unseen = [table for table in tables if table.works == works]
        learned = shares * np.exp(fitted(seen, shares)[0])
        for column, given in enumerate((shares, learned)):
            squares[column] += sum(float(one @ one) for one in misses(unseen, given)) / len(unseen)
        lines += sum(len(table.called) for table in unseen) / len(unseen)
    alone, taught = np.sqrt(squares / lines)
    return float(alone), float(taught)


def main() -> None:
    """Print the fit: faults that the tables would have more or less common, and what it mends."""
    shares = shares_by_book()
    faults = list(shares)
    given = np.array([shares[name] for name in faults])
    tables = read(faults)
    factors, doubts, spread = fitted(tables, given)
    print(f"{len(tables)} tables; a line lies within a factor of {np.exp(spread):.1f} of the fit")
    for index in np.argsort(-np.abs(factors)):
        if abs(factors[index]) > 0.1:
            low, high = np.exp(factors[index] + np.array([-1, 1]) * doubts[index])
            print(
                f"{faults[index]:26}{given[index]:7.2%}  x {np.exp(factors[index]):.2f}"
                f"  ({low:.2f} to {high:.2f})"
            )
    print("\nrank correlation: by the book, by the fit")
    for table in tables:
        if len(table.called) > 2:
            after = correlation(table, given * np.exp(factors))
            print(f"{correlation(table, given):6.2f}{after:6.2f}  {table.id}")
    alone, taught = foretold(tables, given)
    print(
        "on a works that the fit has not seen a line is missed by a factor of "
        f"{np.exp(alone):.2f} by the book, {np.exp(taught):.2f} by the fit to the others"
    )


if __name__ == "__main__":
    main()
