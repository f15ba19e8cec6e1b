"""How far the first answer stands when every judgement behind it is shaken."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from diagnose.engine.cliquetree import Floats, Ints
from diagnose.engine.looktable import LookTable
from diagnose.engine.model import Model
from diagnose.engine.network import Figures, Network
from diagnose.engine.posterior import Evidence, log_findings, normalised

SHAKE = 0.5
"""Standard deviation, in natural logarithms of odds, by which every figure is shaken: about a
factor of 1.6 either way, which is how far two engineers' guesses lie apart (from memory)."""


class Normal(Protocol):
    """What draws from the standard normal distribution, as numpy's generators do."""

    def standard_normal(self, size: Any) -> Any:
        """Return an array of this shape."""


class Kept:
    """The draws of a generator with a seed of its own, the first of them kept.

    So that nobody waits for numpy's generators to be imported where the kept ones are enough; what
    is drawn is the same either way.
    """

    def __init__(self, seed: int, kept: Floats) -> None:
        """``kept``: see ``first_draws``."""
        self._seed = seed
        self._kept = kept
        self._at = 0

    def standard_normal(self, size: Any) -> Floats:
        """Return an array of this shape: what the generator draws next."""
        count = int(np.prod(size))
        begin, self._at = self._at, self._at + count
        if self._at > len(self._kept):
            self._kept = first_draws(self._seed, 2 * self._at)
        return self._kept[begin : self._at].reshape(size)


def first_draws(seed: int, count: int) -> Floats:
    """Return the first draws of a generator with this seed."""
    return np.random.default_rng(seed).standard_normal(count)


def shaken(figures: Floats, runs: int, draw: Normal) -> Floats:
    """Return ``runs`` copies of probabilities, each shaken in its log odds: (runs, ...)."""
    figures = np.asarray(figures)
    return _moved(figures, draw.standard_normal((runs, *figures.shape)))


def _moved(figures: Floats, draws: Floats) -> Floats:
    moved = figures / np.maximum(1.0 - figures, 1e-12) * np.exp(SHAKE * draws)
    return np.asarray(moved / (1.0 + moved))


def shaken_figures(
    figures: Figures, runs: int, draw: Normal, findings: Sequence[int] | None = None
) -> Figures:
    """Shake every figure of a network; return those of its conditions and links, and of findings.

    ``findings``: those whose figures are wanted, None for all. Draws are made for the others too,
    so that what comes out for one figure does not hang on which of them are wanted.
    """
    leak, strength = (shaken(part, runs, draw) for part in (figures.leak, figures.strength))
    sides = []
    for some in (figures.low, figures.high):
        ends = np.cumsum([0, *(runs * len(side) for side in some)]).tolist()
        draws = draw.standard_normal(ends[-1])
        wanted = range(len(some)) if findings is None else findings
        sides.append(
            tuple(_moved(some[i], draws[ends[i] : ends[i + 1]].reshape(runs, -1)) for i in wanted)
        )
    return Figures(leak, strength, sides[0], sides[1])


def shaken_findings(network: Network, figures: Figures, evidence: Evidence) -> Floats:
    """Return log P(shop findings | account) under each of many sets of figures.

    ``figures`` has one leading axis and of the findings only those that were answered, in their
    order; the result is (sets, accounts).
    """
    answered = sorted(evidence.findings)
    if not answered:
        return np.zeros((len(figures.leak), len(network.sets)))
    model = Model(network.only(answered), figures, np.zeros(len(network.sets)), [])
    renumbered = {k: evidence.findings[i] for k, i in enumerate(answered)}
    found = log_findings(model, Evidence({}, renumbered))
    return np.asarray(found.take(model.pattern_of_account, axis=-1))


def shaken_looks(
    tables: list[tuple[LookTable, Sequence[float]]], runs: int, draw: Normal
) -> Floats:
    """Return log P(look answers | account) with every likelihood shaken: (runs, accounts).

    ``tables``: for each look answered its table, and the likelihood of what was found or heard
    under each answer: 1 and 0 where it was answered.
    """
    total: Floats = np.zeros((runs, 1))
    for table, likelihood in tables:
        weights = np.asarray(likelihood) / max(likelihood)
        moved = np.log(shaken(table.rows @ weights, runs, draw))
        total = total + moved[:, table.of_account]
    return total


def first_roots(log_joint: Floats, root_of_account: NDArray[np.intp]) -> Ints:
    """Return which root condition comes out first in each run."""
    roots = int(root_of_account.max()) + 1
    sums = [np.bincount(root_of_account, run, roots) for run in normalised(log_joint)]
    return np.asarray(np.array(sums).argmax(axis=1))
