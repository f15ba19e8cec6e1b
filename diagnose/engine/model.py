"""A network made ready to reason with: laid out once, asked many times."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from diagnose.engine.cliquetree import Floats, Ints
from diagnose.engine.findings import Weights
from diagnose.engine.frame import Frame, framed
from diagnose.engine.fromabove import FromAbove
from diagnose.engine.looktable import LookTable, look_table
from diagnose.engine.network import Figures, Network
from diagnose.engine.ragged import cut, end_to_end


@dataclass(frozen=True, slots=True)
class Cells:
    """The pairs of a pattern and a root condition that accounts have, by root condition.

    ``pattern`` and ``root`` of each pair. ``of_account``: the pair of each account.
    """

    pattern: Ints
    root: Ints
    of_account: Ints


class Model:
    """Everything that does not depend on what was found.

    ``log_prior``: (accounts,), adds up to one in probability. ``looks``: for each look its table,
    or an array (answers, accounts) of log likelihoods. ``frame``: the network laid out, where it
    was kept. ``at_rest``: E[basis | pattern] of every finding, end to end, where that was kept.
    ``recent``: what the last few bodies of shop findings say (``posterior.log_findings``);
    answers to looks leave it as it is.
    """

    def __init__(
        self,
        network: Network,
        figures: Figures,
        log_prior: Floats,
        looks: Sequence[LookTable | Floats],
        frame: Frame | None = None,
        at_rest: Floats | None = None,
    ) -> None:
        self.network = network
        self.figures = figures
        self.log_prior = log_prior
        self.looks = tuple(
            look if isinstance(look, LookTable) else look_table(look) for look in looks
        )
        self.frame = frame or framed(network, figures)
        self.patterns = self.frame.patterns
        self.pattern_of_account = self.frame.pattern_of_account
        self.forest, self.tables = self.frame.forest, self.frame.tables
        self.seats, self.ancestors = self.frame.seats, self.frame.ancestors
        self.root_number, self.root_of_account = np.unique(network.root, return_inverse=True)
        self.recent: dict[tuple[tuple[int, Weights], ...], Floats] = {}
        self._expected_at_rest: dict[int, Floats] = {}
        if at_rest is not None:
            shapes = [(4, self.forest.places[self.forest.root[s.clique]].rows) for s in self.seats]
            self._expected_at_rest = dict(enumerate(cut(at_rest, shapes)))

    @cached_property
    def prior(self) -> Floats:
        """P(account) before anything was found."""
        return np.asarray(np.exp(self.log_prior))

    @cached_property
    def cells(self) -> Cells:
        """The pairs of a pattern and a root condition that accounts have."""
        return self.cells_of(self.root_of_account)

    def cells_of(self, group: Ints) -> Cells:
        """Return the pairs of a pattern and a group of accounts in place of a root condition."""
        patterns = self.patterns
        pairs = group * patterns + self.pattern_of_account
        found, of_account = np.unique(pairs, return_inverse=True)
        return Cells(found % patterns, found // patterns, of_account)

    @cached_property
    def rates(self) -> list[Floats]:
        """How often each answer of each look is given where nothing was found."""
        return [
            np.bincount(look.of_account, self.prior, len(look.rows)) @ look.rows
            for look in self.looks
        ]

    @cached_property
    def at_rest(self) -> FromAbove:
        """What each clique sees of the rest while nothing was found."""
        return FromAbove(self.tables, {})

    def expected_at_rest(self, finding: int) -> Floats:
        """Return E[basis | pattern] while nothing else was found: (4, rows of the tree's root)."""
        if finding not in self._expected_at_rest:
            seat = self.seats[finding]
            self._expected_at_rest[finding] = seat.expected(
                self.at_rest.joint(seat.clique, seat.held)
            )
        return self._expected_at_rest[finding]

    def all_at_rest(self) -> Floats:
        """Return what ``at_rest`` keeps: E[basis | pattern] of every finding, end to end."""
        return end_to_end([self.expected_at_rest(finding) for finding in range(len(self.seats))])

    @property
    def largest_clique(self) -> int:
        """The most variables in one clique, small ones being merged up to ``MERGE_UP_TO``."""
        return max((len(place.clique.variables) for place in self.forest.places), default=0)
