"""From findings to the probability of every account."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from diagnose.engine.cliquetree import Floats
from diagnose.engine.findings import Weights
from diagnose.engine.model import Model

RAREST = 1e-3
"""Answers are taken to be the true one at least so often."""
RECENT = 64
"""Bodies of shop findings whose result is kept."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is known about one reject.

    ``looks``: look -> the answers it may be (one, or several where only so much is known).
    ``graded``: look -> for each answer the likelihood of what was heard if that is the true one
    (virtual evidence; only the ratios matter). ``findings``: finding -> four weights over its
    basis (1, A, B, A*B): the likelihood of what was found as a function of its conditions.
    """

    looks: Mapping[int, tuple[int, ...]] = field(default_factory=dict)
    findings: Mapping[int, Weights] = field(default_factory=dict)
    graded: Mapping[int, tuple[float, ...]] = field(default_factory=dict)


def laid_on(model: Model, findings: Mapping[int, Weights]) -> dict[int, Floats]:
    """Return clique -> product of the findings laid on it, with the axes of the clique."""
    laid: dict[int, Floats] = {}
    for i in sorted(findings):
        seat = model.seats[i]
        likelihood = seat.likelihood(findings[i])
        laid[seat.clique] = laid[seat.clique] * likelihood if seat.clique in laid else likelihood
    return laid


def log_findings(model: Model, evidence: Evidence) -> Floats:
    """Return log P(shop findings | account), exact: (..., patterns)."""
    key = tuple(sorted(evidence.findings.items()))
    if key not in model.recent:
        if len(model.recent) >= RECENT:
            model.recent.clear()
        model.recent[key] = _log_findings(model, evidence.findings)
    return model.recent[key]


def _log_findings(model: Model, findings: Mapping[int, Weights]) -> Floats:
    if model.figures.leak.ndim > 1:
        climbed = model.tables.climb(laid_on(model, findings))
        roots = set(model.forest.root)
        chances = {k: climbed[k][..., 0, :] for k in climbed if k in roots}
    else:
        chances = _chances_by_tree(model, findings)
    total = np.zeros(model.patterns)
    with np.errstate(divide="ignore"):
        for root, chance in chances.items():
            logs = np.log(np.maximum(chance, 0.0))
            total = total + logs.take(model.forest.places[root].pattern_of, axis=-1)
    return total


def _chances_by_tree(model: Model, findings: Mapping[int, Weights]) -> dict[int, Floats]:
    """Return root of a tree -> P(the findings in it | pattern), over the rows of that root."""
    chances: dict[int, Floats] = {}
    for group in groups(model.ancestors, sorted(findings)):
        if len(group) == 1:
            (finding,) = group
            clique = model.seats[finding].clique
            chance = np.asarray(findings[finding]) @ model.expected_at_rest(finding)
        else:
            climbed = model.tables.climb(
                laid_on(model, {i: findings[i] for i in group}), until_met=True
            )
            clique, message = climbed.popitem()
            inside = message.take(model.forest.row_of_root[clique], axis=-1)
            chance = (inside * model.at_rest.above(clique)).sum(axis=0)
        root = model.forest.root[clique]
        chances[root] = chances[root] * chance if root in chances else chance
    return chances


def groups(ancestors: Sequence[int], findings: Sequence[int]) -> list[list[int]]:
    """Sort findings into groups that have no ancestor in common, so that each stands alone.

    >>> groups([0b001, 0b110, 0b011, 0b1000], [0, 1, 2, 3])
    [[1, 0, 2], [3]]
    """
    apart: list[tuple[int, list[int]]] = []
    for i in findings:
        bits, together = ancestors[i], [i]
        rest = []
        for other, members in apart:
            if other & bits:
                bits |= other
                together = members + together
            else:
                rest.append((other, members))
        apart = [*rest, (bits, together)]
    return [members for _, members in apart]


def log_looks(model: Model, evidence: Evidence) -> Floats:
    """Return log P(look answers | account)."""
    total = np.zeros(len(model.log_prior))
    with np.errstate(divide="ignore"):
        for look in sorted(evidence.looks):
            table = model.looks[look]
            told = np.zeros(table.answers)
            told[list(evidence.looks[look])] = 1.0
            total += table.log_likelihood_of(told)
        for look in sorted(evidence.graded):
            total += model.looks[look].log_likelihood_of(evidence.graded[look])
    return total


def likelihood_of(said: Mapping[int, float], rates: Floats) -> tuple[float, ...]:
    """Return the likelihood under each answer of words that say answers with probabilities.

    ``said``: answer -> probability that the words mean it; the rest is that they mean nothing here.
    ``rates``: how often each answer is the true one where nothing is known. Sure words (p = 1)
    leave only their answer; words that say every answer as often as it comes say nothing.

    >>> likelihood_of({0: 0.5}, np.array([0.25, 0.75]))
    (2.5, 0.5)

    References
    ----------
    J. Pearl, "Probabilistic Reasoning in Intelligent Systems" (1988), section 2.2.2 (from memory):
    virtual evidence.

    """
    nothing = max(0.0, 1.0 - sum(said.values()))
    return tuple(
        nothing + (said[k] / max(float(rate), RAREST) if k in said else 0.0)
        for k, rate in enumerate(rates)
    )


def log_joint(model: Model, evidence: Evidence) -> Floats:
    """Return log P(account and all that was found): (..., accounts)."""
    found = log_findings(model, evidence).take(model.pattern_of_account, axis=-1)
    return np.asarray(model.log_prior + log_looks(model, evidence) + found)


def normalised(log_weights: Floats) -> Floats:
    """Turn logs into probabilities that add up to one along the last axis.

    Raises ValueError where every account is impossible.
    """
    top = log_weights.max(axis=-1, keepdims=True)
    if not np.all(np.isfinite(top)):
        raise ValueError("the findings exclude every account")
    weights = np.exp(log_weights - top)
    return np.asarray(weights / weights.sum(axis=-1, keepdims=True))


def posterior(model: Model, evidence: Evidence) -> Floats:
    """Return P(account | evidence), the last one being "none of these"."""
    return normalised(log_joint(model, evidence))


def look_rates(model: Model, look: int) -> Floats:
    """Return how often each answer of a look is given where nothing was found."""
    return model.rates[look]


def finding_rate(model: Model, finding: int, weights: Sequence[float]) -> float:
    """Return how likely an outcome of a finding is where nothing was found."""
    seat = model.seats[finding]
    chances = np.asarray(weights) @ model.expected_at_rest(finding)
    pattern = model.forest.places[model.forest.root[seat.clique]].pattern_of
    return float(chances[pattern[model.pattern_of_account]] @ model.prior)


def by_root(model: Model, probabilities: Floats) -> Floats:
    """Add up accounts of the same root condition; rows follow ``model.root_number``."""
    sums = np.bincount(model.root_of_account, probabilities, len(model.root_number))
    return np.asarray(sums, dtype=np.float64)
