"""From findings to the probability of every account."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from diagnose.engine.cliquetree import Floats
from diagnose.engine.findings import Weights
from diagnose.engine.model import Model

RECENT = 64
"""Bodies of shop findings whose result is kept."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is known about one reject.

    ``looks``: look -> the answers it may be (one, or several where only so much is known).
    ``findings``: finding -> four weights over its basis (1, A, B, A*B): the likelihood of what
    was found as a function of its conditions.
    """

    looks: Mapping[int, tuple[int, ...]] = field(default_factory=dict)
    findings: Mapping[int, Weights] = field(default_factory=dict)


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
    total = np.zeros(len(model.patterns))
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
    for look in sorted(evidence.looks):
        rows = model.looks[look]
        answers = evidence.looks[look]
        if len(answers) == 1:
            total += rows[answers[0]]
        else:
            total += np.logaddexp.reduce(rows[list(answers)], axis=0)
    return total


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


def by_root(model: Model, probabilities: Floats) -> Floats:
    """Add up accounts of the same root condition; rows follow ``model.root_number``."""
    sums = np.bincount(model.root_of_account, probabilities, len(model.root_number))
    return np.asarray(sums, dtype=np.float64)
