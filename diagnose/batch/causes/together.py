"""Groups of rejects that share one shop: the joint posterior of their responsible accounts.

    P(r_1 .. r_G, all that was found) ~ product of the base rates of the distinct roots
                                      * product over the groups of path strengths and own evidence
                                      * P(shop findings | the union of what the accounts set)

A root that serves two groups is paid once. Exact without findings of the shop, by sums over the
subsets of groups that a root may serve, and for two groups at most by the patterns of their
unions; else sampled (``chain.py``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from diagnose.batch.causes.cells import Cells
from diagnose.batch.causes.unions import Unions
from diagnose.engine.cliquetree import Floats
from diagnose.engine.posterior import normalised

MOST_GROUPS = 9
"""Sums over subsets cost three to the power of the groups; more than these are not taken."""
WIDEST_PAIRS = 2000
"""Cells up to which two groups with findings are worked out pair by pair."""


@dataclass(frozen=True, slots=True)
class Joint:
    """The joint posterior of several groups.

    ``groups``: (groups, cells) P(cell | everything) of each. ``at_work``: by root, the probability
    that it is responsible for one group at least. ``exact``: or sampled; then ``apart`` is how
    far the two chains lie apart at each root.
    """

    groups: Floats
    at_work: Floats
    exact: bool = True
    apart: Floats | None = None


def together(cells: Cells, unions: Unions, weights: Sequence[Floats], seed: int = 1) -> Joint:
    """Return the joint posterior; ``weights``: ``cells.cell_weights`` of each group.

    Raises ValueError where every account of a group is impossible.
    """
    if not all(np.isfinite(weight.max()) for weight in weights):
        raise ValueError("what was found excludes every account of a group")
    if len(unions.patterns) == 1:
        return Subsets(cells, weights).joint()
    if len(weights) == 1:
        return _alone(cells, unions, weights[0])
    if len(weights) == 2 and len(cells) <= WIDEST_PAIRS:
        return _pair(cells, unions, weights[0], weights[1])
    from diagnose.batch.causes.chain import sampled

    return sampled(cells, unions, weights, seed)


def _alone(cells: Cells, unions: Unions, weight: Floats) -> Joint:
    found = unions.log_chance(unions.patterns)
    mine = normalised(weight + cells.log_base[cells.root] + found[cells.pattern])
    return Joint(mine[np.newaxis], cells.by_root(mine))


def _pair(cells: Cells, unions: Unions, one: Floats, other: Floats) -> Joint:
    """Return the joint posterior of two groups from the table of all pairs of cells."""
    base = cells.log_base[cells.root]
    shared = cells.root[:, np.newaxis] == cells.root
    table = (one + base)[:, np.newaxis] + other
    table += np.where(shared, 0.0, base)
    table += unions.pairs()[np.ix_(cells.pattern, cells.pattern)]
    table = normalised(table.reshape(-1)).reshape(table.shape)
    first, second = table.sum(axis=1), table.sum(axis=0)
    both = cells.by_root(np.where(shared, table, 0.0).sum(axis=1))
    at_work = cells.by_root(first) + cells.by_root(second) - both
    return Joint(np.stack([first, second]), at_work)


class Subsets:
    """The joint posterior where the shop's findings are left out: exact for any few groups.

    Every root serves some subset of the groups; the sum over all ways to share the groups out
    among the roots is a product of their sums over subsets. ``tilt``: by root, what its base rate
    is multiplied by, in logarithms.
    """

    def __init__(self, cells: Cells, weights: Sequence[Floats], tilt: Floats | None = None) -> None:
        self.cells = cells
        self.count = len(weights)
        self.full = (1 << self.count) - 1
        tops = [float(weight.max()) for weight in weights]
        self.scaled = np.array([np.exp(w - top) for w, top in zip(weights, tops, strict=True)])
        self.served = np.array([cells.by_root(row) for row in self.scaled])
        base = np.exp(cells.log_base + (0.0 if tilt is None else tilt))
        self.own = np.ones((cells.roots, self.full + 1))
        for subset in range(1, self.full + 1):
            mine = [g for g in range(self.count) if subset >> g & 1]
            self.own[:, subset] = base * np.prod(self.served[mine], axis=0)
        pairs = [(part, whole) for whole in range(self.full + 1)
                 for part in range(whole + 1) if part & whole == part]  # fmt: skip
        self.part, self.whole = np.array(pairs).T
        self.before = self._running(range(cells.roots))

    def _running(self, order: Sequence[int]) -> Floats:
        """Return for each root the sums of those that come before it: (roots + 1, subsets)."""
        sums = np.zeros((self.cells.roots + 1, self.full + 1))
        sums[0, 0] = 1.0
        for step, root in enumerate(order):
            sums[step + 1] = self._product(sums[step], self.own[root])
        return sums

    def _product(self, one: Floats, other: Floats) -> Floats:
        terms = one[self.whole ^ self.part] * other[self.part]
        return np.asarray(np.bincount(self.whole, terms, self.full + 1))

    def joint(self) -> Joint:
        """Return the joint posterior."""
        roots = self.cells.roots
        after = self._running(range(roots - 1, -1, -1))
        whole = self.before[roots, self.full]
        at_work, responsible = np.zeros(roots), np.zeros((self.count, roots))
        subsets = np.arange(self.full + 1)
        for root in range(roots):
            others = self._product(self.before[root], after[roots - 1 - root])
            terms = self.own[root] * others[self.full ^ subsets] / whole
            at_work[root] = terms[1:].sum()
            for g in range(self.count):
                responsible[g, root] = terms[(subsets >> g & 1) == 1].sum()
        share = np.where(self.served > 0.0, responsible / np.maximum(self.served, 1e-300), 0.0)
        return Joint(self.scaled * share[:, self.cells.root], at_work)

    def draw(self, count: int, draw: np.random.Generator) -> np.ndarray:
        """Draw the cells of all groups together: (count, groups)."""
        left = np.full(count, self.full)
        chosen = np.zeros((count, self.count), dtype=np.intp)
        for root in range(self.cells.roots - 1, -1, -1):
            none = self.before[root, left] / self.before[root + 1, left]
            serves = (left > 0) & (draw.random(count) >= none)
            for whole in np.unique(left[serves]).tolist():
                rows = np.flatnonzero(serves & (left == whole))
                parts = self.part[self.whole == whole]
                parts = parts[parts > 0]
                chances = self.own[root, parts] * self.before[root, whole ^ parts]
                taken = parts[draw.choice(len(parts), len(rows), p=chances / chances.sum())]
                for part in np.unique(taken[taken > 0]).tolist():
                    some = rows[taken == part]
                    for g in range(self.count):
                        if part >> g & 1:
                            chosen[some, g] = self._cells(g, root, len(some), draw)
                left[rows] ^= taken
        return chosen

    def _cells(self, group: int, root: int, count: int, draw: np.random.Generator) -> np.ndarray:
        mine = np.flatnonzero(self.cells.root == root)
        chances = self.scaled[group, mine]
        return np.asarray(mine[draw.choice(len(mine), count, p=chances / chances.sum())])
