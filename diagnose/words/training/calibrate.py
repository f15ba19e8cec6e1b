"""From the classifier's numbers to probabilities, fitted on texts that training never saw."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from diagnose.words.calibration import Curve, Questions
from diagnose.words.classes import CALLED_AS, MEASURED_AS
from diagnose.words.training.corpus import Example

Floats = NDArray[np.float64]
FLOOR = -6.0
"""Logits below this are not worth a candidate."""
ROUNDS, RIDGE = 30, 1e-3


@dataclass(frozen=True, slots=True)
class Candidate:
    """A class that a text might mean, as features; whether it does, and whether it may be taken."""

    features: Floats
    said: bool
    fair: bool


def fitted(rows: Floats, said: NDArray[np.bool_]) -> Floats:
    """Fit a logistic curve by Newton's method: weights, the threshold last."""
    x = np.column_stack([rows, np.ones(len(rows))])
    weights = np.zeros(x.shape[1])
    for _ in range(ROUNDS):
        p = 1.0 / (1.0 + np.exp(-np.clip(x @ weights, -30, 30)))
        slope = x.T @ (said - p) - RIDGE * weights
        bend = (x * (p * (1 - p))[:, None]).T @ x + RIDGE * np.eye(x.shape[1])
        weights = weights + np.linalg.solve(bend, slope)
    return np.asarray(weights)


def curve_of(
    classes: Sequence[str], examples: Sequence[Example], logits: Sequence[Floats], group: str
) -> Curve:
    """Fit the curve of one group of classes: ``answers``, ``called`` or ``measured``.

    Its direction is that which best parts what is said from what is not; its height is that of
    what may be taken without a mistake.
    """
    mine = np.array([group_of(name) == group for name in classes])
    names = [name for name, own in zip(classes, mine, strict=True) if own]
    every = [
        one
        for some in _candidates(names, examples, [one[:, mine] for one in logits], group)
        for one in some
    ]
    rows = np.array([one.features for one in every])
    said = np.array([one.said for one in every])
    fair = np.array([one.fair for one in every])
    clear = said | ~fair
    *slopes, threshold = fitted(rows[clear], said[clear])
    score = rows @ np.array(slopes) + threshold
    steep, shift = fitted(score[:, None], fair)
    return Curve((*(float(steep * w) for w in slopes), float(steep * threshold + shift)))


def group_of(name: str) -> str:
    """Return to which group a class belongs."""
    if name.startswith(CALLED_AS):
        return "called"
    return "measured" if name.startswith(MEASURED_AS) else "answers"


def _candidates(
    names: Sequence[str],
    examples: Sequence[Example],
    logits: Sequence[Floats],
    group: str,
) -> Iterator[list[Candidate]]:
    kinds = {"answers": ("remark",), "called": ("called",), "measured": ("reading",)}[group]
    questions = Questions(names)
    for example, row in zip(examples, logits, strict=True):
        if example.kind not in kinds:
            continue
        table, _ = questions.features(row)
        fair = {*example.means, *example.may}  # what may be taken is no mistake
        yield [
            Candidate(table[k], names[k] in example.means, names[k] in fair)
            for k in map(int, np.flatnonzero(table[:, 0] > FLOOR))
        ]
