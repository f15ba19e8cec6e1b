"""From findings to the probability of every account."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from diagnose.engine.cliquetree import Floats
from diagnose.engine.model import Model


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is known about one reject.

    ``looks``: look -> the answers it may be (one, or several where only so much is known).
    ``findings``: finding -> four weights over its basis (1, A, B, A*B): the likelihood of what
    was found as a function of its conditions.
    """

    looks: Mapping[int, tuple[int, ...]] = field(default_factory=dict)
    findings: Mapping[int, tuple[float, float, float, float]] = field(default_factory=dict)


def laid_on(model: Model, evidence: Evidence) -> dict[int, Floats]:
    """Return clique -> product of the findings laid on it, over its states."""
    laid: dict[int, Floats] = {}
    for i in sorted(evidence.findings):
        seat = model.seats[i]
        weights = np.asarray(evidence.findings[i])
        likelihood = weights @ seat.basis
        if seat.basis.ndim > 2:
            likelihood = likelihood[..., None, :]
        laid[seat.clique] = laid[seat.clique] * likelihood if seat.clique in laid else likelihood
    return laid


def log_findings(model: Model, evidence: Evidence) -> Floats:
    """Return log P(shop findings | account), up to nothing: exact. Shape (..., patterns)."""
    if not evidence.findings:
        return np.zeros(len(model.patterns))
    changed = model.tables.upward(laid_on(model, evidence))
    total: Floats | float = 1.0
    for k in model.forest.roots:
        if k in changed:
            total = total * changed[k].take(model.forest.places[k].pattern_of, axis=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(np.log(np.maximum(total, 0.0)))


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
