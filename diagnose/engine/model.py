"""A network made ready to reason with: laid out once, asked many times."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from diagnose.engine.cliquetree import Floats, Forest, Ints, Shape, Tables, axes_of, lay_out
from diagnose.engine.findings import Weights
from diagnose.engine.fromabove import FromAbove
from diagnose.engine.network import Basis, Figures, Network, Scribe
from diagnose.engine.triangulate import clique_tree, elimination_order

MERGE_UP_TO = 5
"""Cliques are merged while they hold no more variables than this (measured: docs/speed.md)."""


@dataclass(frozen=True, slots=True)
class Seat:
    """Where a finding is laid on.

    ``axes``: 2 for each variable of the clique that the finding depends on, else 1. ``basis``:
    its four basic functions (..., 4, joint states of these variables).
    """

    clique: int
    axes: Shape
    basis: Floats

    def likelihood(self, weights: Sequence[float]) -> Floats:
        """Return the finding with the axes of the clique and one row."""
        flat = np.asarray(weights) @ self.basis
        return np.asarray(flat.reshape(*flat.shape[:-1], *self.axes, 1))

    def expected(self, joint: Floats) -> Floats:
        """Return E[basis | pattern], given the joint weight of the clique's variables.

        ``joint``: see ``FromAbove.joint``. Shape (4, rows of the tree's root).
        """
        out = tuple(axis for axis, size in enumerate(self.axes) if size == 1)
        states = np.add.reduce(joint, axis=out)
        sums = self.basis @ states.reshape(self.basis.shape[-1], -1)
        return np.asarray(sums / np.where(sums[0] > 0.0, sums[0], 1.0))


@dataclass(frozen=True, slots=True)
class AnswerTable:
    """All look likelihoods again, cut into one block for each root condition.

    ``blocks``: (answers of all looks, accounts of that root). ``accounts``: which they are.
    ``span``: first and last row (exclusive) of each look.
    """

    answers: int
    blocks: tuple[Floats, ...]
    accounts: tuple[Ints, ...]
    span: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Cells:
    """The pairs of a pattern and a root condition that accounts have, by root condition.

    ``pattern``: of each pair. ``starts``: the first pair of each root condition.
    ``of_account``: the pair of each account.
    """

    pattern: Ints
    starts: Ints
    of_account: Ints


class Model:
    """Everything that does not depend on what was found.

    ``log_prior``: (accounts,), adds up to one in probability. ``looks``: for each look an array
    (answers, accounts) of log likelihoods. ``order``: an elimination order found before, for a
    quick start; it is checked and made anew where it does not fit. ``recent``: what the last few
    bodies of shop findings say (``posterior.log_findings``); answers to looks leave it as it is.
    """

    def __init__(
        self,
        network: Network,
        figures: Figures,
        log_prior: Floats,
        looks: Sequence[Floats],
        order: Sequence[int] | None = None,
    ) -> None:
        self.network = network
        self.figures = figures
        self.log_prior = log_prior
        self.looks = tuple(looks)
        scribe = Scribe(network, figures)
        scopes = [factor.scope for factor in scribe.factors]
        if order is None or sorted(order) != list(range(scribe.variables)):
            order = elimination_order(scopes, scribe.variables)
        self.order = list(order)
        self.patterns, self.pattern_of_account = account_patterns(network, scribe)
        self.forest = lay_out(
            clique_tree(scopes, self.order, MERGE_UP_TO), scribe.factors, self.patterns
        )
        self.tables = Tables(self.forest, scribe.factors, self.patterns)
        self.seats = [seat(basis, self.forest) for basis in scribe.bases]
        self.ancestors = network.ancestors()
        self.root_number, self.root_of_account = np.unique(network.root, return_inverse=True)
        self.recent: dict[tuple[tuple[int, Weights], ...], Floats] = {}
        self._expected_at_rest: dict[int, Floats] = {}

    @cached_property
    def answer_table(self) -> AnswerTable:
        """The look likelihoods by root condition, made when the first question is ranked."""
        ends = np.cumsum([0, *(len(look) for look in self.looks)]).tolist()
        likelihood = np.exp(np.concatenate(self.looks)) if self.looks else np.zeros((0, 1))
        accounts = tuple(
            np.flatnonzero(self.root_of_account == j) for j in range(len(self.root_number))
        )
        return AnswerTable(
            ends[-1],
            tuple(np.ascontiguousarray(likelihood[:, some]) for some in accounts),
            accounts,
            tuple(pairwise(ends)),
        )

    @cached_property
    def cells(self) -> Cells:
        """The pairs of a pattern and a root condition that accounts have."""
        patterns = len(self.patterns)
        pairs = self.root_of_account * patterns + self.pattern_of_account
        found, of_account = np.unique(pairs, return_inverse=True)
        starts = np.searchsorted(found, np.arange(len(self.root_number)) * patterns)
        return Cells(found % patterns, starts, of_account)

    @cached_property
    def at_rest(self) -> FromAbove:
        """What each clique sees of the rest while nothing was found."""
        return FromAbove(self.tables, {})

    def expected_at_rest(self, finding: int) -> Floats:
        """Return E[basis | pattern] while nothing else was found: (4, rows of the tree's root)."""
        if finding not in self._expected_at_rest:
            seat = self.seats[finding]
            self._expected_at_rest[finding] = seat.expected(self.at_rest.joint(seat.clique))
        return self._expected_at_rest[finding]

    @property
    def largest_clique(self) -> int:
        """The most variables in one clique, small ones being merged up to ``MERGE_UP_TO``."""
        return max((len(place.clique.variables) for place in self.forest.places), default=0)


def account_patterns(network: Network, scribe: Scribe) -> tuple[NDArray[np.bool_], Ints]:
    """Return the distinct patterns (patterns x variables) and the pattern of each account."""
    full = np.zeros((len(network.sets), scribe.variables), dtype=np.bool_)
    for r, conditions in enumerate(network.sets):
        full[r, [scribe.number[c] for c in conditions if c in scribe.number]] = True
    packed = np.packbits(full, axis=1)
    _, first, inverse = np.unique(packed, axis=0, return_index=True, return_inverse=True)
    return full[first], inverse.reshape(-1).astype(np.intp)


def seat(basis: Basis, forest: Forest) -> Seat:
    """Seat a finding in the lowest clique that holds its scope."""
    k = forest.clique_holding(basis.scope)
    clique = forest.places[k].clique
    held = [basis.scope.index(v) for v in clique.variables if v in basis.scope]
    lead = basis.table.shape[:-1]
    table = basis.table.reshape(*lead, *[2] * len(held))
    table = table.transpose(*range(len(lead)), *(len(lead) + axis for axis in held))
    return Seat(k, axes_of(clique, basis.scope), np.ascontiguousarray(table.reshape(*lead, -1)))
