"""The model by brute force: every joint state of the conditions, one after the other."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from itertools import product

import numpy as np

from diagnose.engine.network import Figures, Network

Weights = tuple[float, float, float, float]


def chance_present(network: Network, figures: Figures, c: int, state: tuple[int, ...]) -> float:
    """Return P(condition c | its causes as in ``state``), by the words of the model."""
    away = 1.0 - float(figures.leak[c])
    for i, link in enumerate(network.links):
        if link.child == c and all(state[p] for p in link.parents):
            away *= 1.0 - float(figures.strength[i])
    return 1.0 - away


def chance_of_state(
    network: Network, figures: Figures, present: Collection[int], state: tuple[int, ...]
) -> float:
    """Return P(state) where the conditions in ``present`` are set, whatever their causes say."""
    chance = 1.0
    for c, value in enumerate(state):
        p = 1.0 if c in present else chance_present(network, figures, c, state)
        chance *= p if value else 1.0 - p
    return chance


def likelihood(
    network: Network, figures: Figures, i: int, weights: Weights, state: tuple[int, ...]
) -> float:
    """Return what finding ``i`` says about the conditions as in ``state``."""
    finding = network.findings[i]
    a = b = 1.0
    for c, d in zip(finding.low, figures.low[i], strict=True):
        a *= 1.0 - float(d) * state[c]
    for c, d in zip(finding.high, figures.high[i], strict=True):
        b *= 1.0 - float(d) * state[c]
    one, on_a, on_b, on_both = weights
    return one + on_a * a + on_b * b + on_both * a * b


def chance_of_findings(
    network: Network,
    figures: Figures,
    present: Collection[int],
    findings: Mapping[int, Weights],
) -> float:
    """Return P(findings | the conditions in ``present`` are set)."""
    total = 0.0
    for state in product((0, 1), repeat=network.conditions):
        chance = chance_of_state(network, figures, present, state)
        if chance > 0.0:
            for i, weights in findings.items():
                chance *= likelihood(network, figures, i, weights, state)
            total += chance
    return total


def posterior(
    network: Network, figures: Figures, account_weights: np.ndarray, findings: Mapping[int, Weights]
) -> np.ndarray:
    """Return P(account | findings); ``account_weights`` is the prior times what the looks say."""
    joint = account_weights * [
        chance_of_findings(network, figures, present, findings) for present in network.sets
    ]
    return np.asarray(joint / joint.sum())
