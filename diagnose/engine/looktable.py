"""How likely each answer of a look is under each account."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from diagnose.engine.cliquetree import Floats, Ints
from diagnose.engine.ragged import Arrays, cut, end_to_end, narrow


@dataclass(frozen=True, slots=True)
class LookTable:
    """One look's likelihoods before they are spread over the accounts.

    ``rows``: (tables, answers), P(answer) by each table. ``of_account``: which table each account
    follows. Many accounts follow the same one, so this takes a small part of the room.
    """

    rows: Floats
    of_account: NDArray[np.integer[Any]]

    @property
    def answers(self) -> int:
        """How many answers the look has."""
        return int(self.rows.shape[1])

    @property
    def log_likelihood(self) -> Floats:
        """Log P(answer | account): (answers, accounts)."""
        with np.errstate(divide="ignore"):
            return np.asarray(np.log(self.rows).T[:, self.of_account])

    def log_likelihood_of(self, weights: Sequence[float] | Floats) -> Floats:
        """Return log of the weighted sum of the answers' likelihoods: (accounts,)."""
        return np.asarray(np.log(self.rows @ weights).take(self.of_account))

    def shares(self, probabilities: Floats, group: Ints, groups: int) -> Floats:
        """Return P(answer, group) where ``group`` sorts the accounts: (answers, groups)."""
        tables = len(self.rows)
        cell = self.of_account * np.intp(groups) + group
        weight = np.bincount(cell, probabilities, tables * groups)
        return np.asarray(self.rows.T @ weight.reshape(tables, groups))


def look_table(log_likelihood: Floats) -> LookTable:
    """Return the table of likelihoods that are spread already: (answers, accounts), in logs.

    >>> look_table(np.log([[0.5, 0.2, 0.5], [0.5, 0.8, 0.5]])).of_account.tolist()
    [1, 0, 1]
    """
    columns, of_account = np.unique(log_likelihood, axis=1, return_inverse=True)
    return LookTable(np.ascontiguousarray(np.exp(columns.T)), of_account.reshape(-1))


LOOKS_LIKE = {"looks": "i looks", "look rows": "f *", "look of account": "i looks all"}
"""The arrays of all tables: kind of number and what each axis counts."""


def looks_arrays(tables: Sequence[LookTable]) -> dict[str, NDArray[Any]]:
    """Return the tables of all looks as plain arrays; ``looks``: how many rows each has."""
    of_account = np.array([table.of_account for table in tables])
    return {
        "looks": np.array([len(table.rows) for table in tables], np.int32),
        "look rows": end_to_end([table.rows for table in tables]),
        "look of account": narrow(of_account),
    }


def looks_from(arrays: Arrays, answers: Sequence[int]) -> list[LookTable]:
    """Return the tables that plain arrays hold, given how many answers each look has."""
    shapes = zip(arrays["looks"].tolist(), answers, strict=True)
    rows = cut(arrays["look rows"], [(tables, many) for tables, many in shapes])
    return list(map(LookTable, rows, arrays["look of account"]))
