"""Accounts that are alike for several groups of one shop, put together into cells.

Two accounts are in one cell where they have the same root condition and set the same conditions of
those that the shop's findings depend on. All that a group's own evidence says adds up in a cell.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from diagnose.batch.causes.unions import Unions
from diagnose.engine.cliquetree import Floats, Ints
from diagnose.engine.model import Model


@dataclass(frozen=True, slots=True)
class Cells:
    """The cells of a model. ``root``: row of ``model.root_number``; ``pattern``: of the unions.

    ``of_account``: the cell of each account. ``log_base``: by root, of its base rate; 0 for "none
    of these", the first row, which every group pays for itself.
    """

    root: Ints
    pattern: Ints
    of_account: Ints
    log_base: Floats

    def __len__(self) -> int:
        return len(self.root)

    @property
    def roots(self) -> int:
        """How many root conditions there are, "none of these" among them."""
        return len(self.log_base)

    def by_root(self, of_cells: Floats) -> Floats:
        """Add up what cells of one root condition have."""
        return np.asarray(np.bincount(self.root, of_cells, self.roots), dtype=np.float64)


def cells_of(model: Model, unions: Unions) -> Cells:
    """Put the accounts of a model into cells."""
    count = len(unions.patterns)
    pairs = model.root_of_account.astype(np.intp) * count + unions.of_account
    found, of_account = np.unique(pairs, return_inverse=True)
    leak = np.where(model.root_number < 0, 1.0, model.figures.leak[model.root_number])
    return Cells(found // count, found % count, of_account.reshape(-1), np.log(leak))


def own_weights(model: Model, cells: Cells, log_looks: Floats) -> Floats:
    """Return what a group weighs each account by itself, the base rate of the root left out.

    ``log_looks``: log P(the group's own evidence | account).
    """
    return np.asarray(model.log_prior - cells.log_base[model.root_of_account] + log_looks)


def cell_weights(cells: Cells, own: Floats) -> Floats:
    """Return the weights of accounts added up by cells, in logarithms."""
    top = own.max()
    sums = np.bincount(cells.of_account, np.exp(own - top), len(cells))
    with np.errstate(divide="ignore"):
        return np.asarray(np.log(sums) + top)


def to_accounts(cells: Cells, own: Floats, of_cells: Floats) -> Floats:
    """Share what each cell has among its accounts as their own weights are."""
    logs = own - cell_weights(cells, own)[cells.of_account]
    shares = np.exp(np.where(np.isnan(logs), -np.inf, logs))
    return np.asarray(of_cells[cells.of_account] * shares)
