"""Several groups of one shop by brute force, by the words of the model: one state at a time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product

import numpy as np

from diagnose.engine.network import Figures, Network
from tests.engine.enumeration import Weights, chance_of_findings


def joint_posterior(
    network: Network,
    figures: Figures,
    own: Sequence[np.ndarray],
    findings: Mapping[int, Weights],
) -> tuple[np.ndarray, np.ndarray]:
    """Return P(account | all) of each group, and P(root responsible for one group at least).

    ``own``: by group, what each account weighs without the base rate of its root. Roots are in the
    order of their numbers, -1 for "none of these" first.
    """
    numbers = np.unique(network.root)
    groups = np.zeros((len(own), len(network.sets)))
    at_work = np.zeros(len(numbers))
    known: dict[frozenset[int], float] = {}
    for accounts in product(range(len(network.sets)), repeat=len(own)):
        roots = {int(network.root[r]) for r in accounts}
        weight = float(np.prod([own[g][r] for g, r in enumerate(accounts)]))
        for root in roots - {-1}:
            weight *= float(figures.leak[root])
        present = frozenset(c for r in accounts for c in network.sets[r])
        if present not in known:
            known[present] = chance_of_findings(network, figures, present, findings)
        weight *= known[present]
        for g, r in enumerate(accounts):
            groups[g, r] += weight
        at_work[[int(np.searchsorted(numbers, root)) for root in roots]] += weight
    return groups / groups[0].sum(), at_work / groups[0].sum()
