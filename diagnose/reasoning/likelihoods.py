"""How likely every answer of a look is under every account: the tables of the book, laid out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from diagnose.engine.cliquetree import Floats, Ints
from diagnose.engine.looktable import LookTable
from diagnose.rulebase.book import Answer, Band, Book, Condition, Defect, Figure

Tables = dict[int, dict[str, Figure]]
"""Number of an entry -> the table that it has for one look."""


@dataclass(frozen=True, slots=True)
class Paths:
    """Where the accounts run. ``conditions``: (accounts, longest path), -1 beyond the end."""

    conditions: Ints
    defect: NDArray[np.intp]


def look_tables(
    book: Book,
    looks: Iterable[str],
    conditions: Mapping[str, int],
    defects: Mapping[str, int],
    paths: Paths,
) -> list[LookTable]:
    """Return a table for every look and every reading with bands, in their order.

    The first row is the neutral one.

    "None of these" follows the neutral one.
    ``conditions`` and ``defects``: id -> its number in ``paths``. Of the tables on a path the one
    that says most holds; of those that say the same, the one nearest to the root.
    """
    of_conditions = _by_look(book.conditions, conditions)
    of_defects = _by_look(book.defects, defects)
    tables = []
    for name in looks:
        first, last = of_conditions.get(name, {}), of_defects.get(name, {})
        rows = _rows(book, book.answers_of(name), [*last.values(), *first.values()])
        says = _says(rows)
        follows = _row_numbers(last, 1, len(defects))[paths.defect]
        by_condition = _row_numbers(first, 1 + len(last), len(conditions))
        for column in reversed(paths.conditions.T):
            here = by_condition[column]
            follows = np.where((here > 0) & (says[here] >= says[follows]), here, follows)
        tables.append(LookTable(rows, np.append(follows, 0)))
    return tables


def called_table(book: Book, defects: Mapping[str, int], defect: NDArray[np.intp]) -> LookTable:
    """Return how likely a person is to call each defect by each name."""
    count, scale = len(defects), book.scale
    rows = np.full((count + 1, count), 1.0 / count)
    for name, number in defects.items():
        alike = [defects[d] for d in book.defects[name].look_alikes]
        others = [d for d in range(count) if d != number and d not in alike]
        taken = scale.named_look_alike if alike else 0.0
        rows[number + 1, number] = scale.named_right
        rows[number + 1, alike] = taken / max(len(alike), 1)
        rows[number + 1, others] = (1.0 - scale.named_right - taken) / max(len(others), 1)
        rows[number + 1] /= rows[number + 1].sum()
    return LookTable(rows, np.append(defect + 1, 0))


def _by_look(
    entries: Mapping[str, Condition] | Mapping[str, Defect], numbers: Mapping[str, int]
) -> dict[str, Tables]:
    """Return look -> the tables of the numbered entries for it."""
    found: dict[str, Tables] = {}
    for entry, number in numbers.items():
        for look, table in entries[entry].shows.items():
            if table:
                found.setdefault(look, {})[number] = table
    return found


def _row_numbers(tables: Tables, first: int, count: int) -> Ints:
    """Return which row each entry follows, 0 without a table; the last is for no entry."""
    follows = np.zeros(count + 1, dtype=np.intp)
    follows[list(tables)] = np.arange(first, first + len(tables))
    return follows


def _says(rows: Floats) -> Floats:
    """Return how much each row says: its divergence from the first, in natural units."""
    return np.asarray((rows * np.log(rows / rows[0])).sum(axis=1))


def _rows(
    book: Book, answers: Mapping[str, Answer | Band], tables: Sequence[dict[str, Figure]]
) -> Floats:
    """Return P(answer) by what is usual, then by each table.

    The answers that a table leaves out share the rest as is usual, and a few are mis-seen.
    """
    usual = np.array([book.figure(answer.usual) for answer in answers.values()])
    usual = usual / usual.sum()
    told = np.array(
        [
            [book.figure(table[answer]) if answer in table else np.nan for answer in answers]
            for table in tables
        ]
    ).reshape(len(tables), len(usual))
    listed = ~np.isnan(told)
    figures = np.where(listed, told, 0.0)
    left = np.maximum(0.0, 1.0 - figures.sum(axis=1, keepdims=True))
    rest = np.where(listed, 0.0, usual)
    whole = rest.sum(axis=1, keepdims=True)
    figures = figures + left * rest / np.where(whole > 0.0, whole, 1.0)
    figures = figures / figures.sum(axis=1, keepdims=True)
    slip = book.scale.mis_seen
    return np.concatenate([usual[np.newaxis], (1.0 - slip) * figures + slip * usual])
