"""Three groups and more with findings of the shop: sampled, two chains that are compared.

One sweep draws the account of each group in turn, given those of the others (Gibbs): one pass of
the tree with the others' conditions set, whose result is kept, as few unions come up. Between
sweeps a jump is tried that draws all groups anew, from the joint posterior in which each root takes
what the findings say of it alone (``together.Subsets``), so that a root which serves several groups
can give way to another in one step.

References
----------
S. Geman and D. Geman, IEEE Trans. PAMI 6 (1984) 721-741, and W. K. Hastings, Biometrika 57 (1970)
97-109 (both from memory).

"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from diagnose.batch.causes.cells import Cells
from diagnose.batch.causes.together import MOST_GROUPS, Joint, Subsets
from diagnose.batch.causes.unions import Unions
from diagnose.engine.cliquetree import Floats, Ints
from diagnose.engine.posterior import normalised

SWEEPS, WARM_UP, CHAINS = 400, 20, 2


class Jumps:
    """Draws of all groups at once, and how much likelier each is than it was to be drawn."""

    def __init__(self, cells: Cells, unions: Unions, weights: Sequence[Floats]) -> None:
        self.cells, self.unions = cells, unions
        alone = unions.log_chance(unions.patterns)
        nothing = unions.log_chance(np.zeros((1, unions.patterns.shape[1]), dtype=np.bool_))[0]
        said = np.exp(np.clip(alone - nothing, -50.0, 50.0))[cells.pattern]
        usual = np.exp([weight - np.logaddexp.reduce(weight) for weight in weights]).sum(axis=0)
        mean = cells.by_root(usual * said) / np.maximum(cells.by_root(usual), 1e-300)
        self.tilt = np.log(np.maximum(mean, 1e-20))
        self.tilt[0] = 0.0
        self.subsets = Subsets(cells, weights, self.tilt)

    def drawn(self, count: int, dice: np.random.Generator) -> list[tuple[Ints, float]]:
        """Return states of all groups, each with its ratio."""
        states = self.subsets.draw(count, dice)
        return list(zip(states, self.log_ratios(states).tolist(), strict=True))

    def log_ratios(self, states: np.ndarray) -> Floats:
        """Return log of the posterior over that of being drawn, but for a constant."""
        patterns = self.unions.patterns[self.cells.pattern[states]].any(axis=1)
        tilts = [float(self.tilt[np.unique(row)].sum()) for row in self.cells.root[states]]
        return np.asarray(self.unions.log_chance(patterns) - np.array(tilts))


class Chain:
    """One chain over the accounts of all groups, with what it has seen so far."""

    def __init__(
        self, weights: Sequence[Floats], jumps: Jumps, seed: int, sweeps: int = SWEEPS
    ) -> None:
        self.cells, self.unions, self.weights, self.jumps = (
            jumps.cells, jumps.unions, weights, jumps,
        )  # fmt: skip
        cells = jumps.cells
        self.sweeps = sweeps
        self.dice = np.random.default_rng(seed)
        self.base = cells.log_base[cells.root]
        self.groups = np.zeros((len(weights), len(cells)))
        self.at_work = np.zeros(cells.roots)
        self._given: dict[bytes, Floats] = {}

    def run(self) -> None:
        """Sweep, and keep the mean of what each group was drawn from."""
        jumps = self.jumps.drawn(WARM_UP + self.sweeps + 1, self.dice)
        state, ratio = jumps.pop()
        for sweep, (new, new_ratio) in enumerate(jumps):
            if np.log(self.dice.random()) < new_ratio - ratio:
                state = new
            state = state.copy()
            for g in range(len(self.weights)):
                chances, used = self._conditional(state, g)
                state[g] = self.dice.choice(len(chances), p=chances)
                if sweep >= WARM_UP:
                    self._note(g, chances, used)
            ratio = float(self.jumps.log_ratios(state[np.newaxis])[0])

    def _note(self, group: int, chances: Floats, used: Ints) -> None:
        """Take note of what a group was drawn from while the others had the roots ``used``."""
        self.groups[group] += chances / self.sweeps
        working = self.cells.by_root(chances)
        working[used] = 1.0
        self.at_work += working / (self.sweeps * len(self.weights))

    def _conditional(self, state: Ints, group: int) -> tuple[Floats, Ints]:
        """Return P(cell of a group | those of the others), and the roots that these have."""
        others = np.delete(state, group)
        used = np.unique(self.cells.root[others])
        free = np.isin(self.cells.root, used)
        held = np.asarray(self.unions.patterns[self.cells.pattern[others]].any(axis=0))
        found = self._found(held)
        logs = self.weights[group] + np.where(free, 0.0, self.base) + found[self.cells.pattern]
        return normalised(logs), used

    def _found(self, others: np.ndarray) -> Floats:
        key = np.packbits(others).tobytes()
        if key not in self._given:
            self._given[key] = self.unions.with_others(others)
        return self._given[key]


def sampled(
    cells: Cells, unions: Unions, weights: Sequence[Floats], seed: int, sweeps: int = SWEEPS
) -> Joint:
    """Return the joint posterior from two chains, and how far they lie apart."""
    if len(weights) > MOST_GROUPS:
        raise ValueError(f"more than {MOST_GROUPS} groups are too many to weigh together")
    jumps = Jumps(cells, unions, weights)
    chains = [Chain(weights, jumps, seed + k, sweeps) for k in range(CHAINS)]
    for chain in chains:
        chain.run()
    one, other = chains
    return Joint(
        (one.groups + other.groups) / 2.0,
        (one.at_work + other.at_work) / 2.0,
        exact=False,
        apart=np.abs(one.at_work - other.at_work),
    )
