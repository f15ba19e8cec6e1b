"""How sure a number of the classifier is: logistic curves from logits to probabilities."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
WIDE = 6.0
"""Margins are cut off here; beyond it they say no more."""


@dataclass(frozen=True, slots=True)
class Curve:
    """Weights of the features, the threshold last."""

    weights: tuple[float, ...]

    def __call__(self, table: Floats) -> Floats:
        """Return the probability of every row of features."""
        *slopes, threshold = self.weights
        return np.asarray(1.0 / (1.0 + np.exp(-np.clip(table @ slopes + threshold, -30.0, 30.0))))


class Questions:
    """The classes sorted by the question that each answers, so that rivals can be compared.

    >>> asked = Questions(["wall=smooth", "wall=jagged", "place=cope"])
    >>> table, part = asked.features(np.array([[2.0, -1.0, -3.0], [0.0, -2.0, 4.0]]))
    >>> part.tolist(), table[2].tolist()
    ([0, 0, 1], [4.0, 6.0, 0.0])
    """

    def __init__(self, classes: Sequence[str]) -> None:
        number: dict[str, int] = {}
        asked = [number.setdefault(name.partition("=")[0], len(number)) for name in classes]
        self._order = np.argsort(asked, kind="stable")
        self._back = np.argsort(self._order)
        sizes = np.bincount(asked, minlength=len(number))
        self._starts = np.cumsum([0, *sizes[:-1]])
        self._of = np.repeat(np.arange(len(sizes)), sizes)

    def features(self, logits: Floats) -> tuple[Floats, NDArray[np.intp]]:
        """Return what the curve takes, (classes, 3), and the part that says each class best.

        ``logits``: (parts, classes). The features, in that part: the logit, how far it lies above
        the best other answer to the same question, and how far below the best answer to any.
        """
        x = logits[:, self._order]
        best = np.maximum.reduceat(x, self._starts, axis=1)[:, self._of]
        others = np.where(x >= best, -np.inf, x)
        second = np.maximum.reduceat(others, self._starts, axis=1)[:, self._of]
        rival = np.where(x >= best, np.maximum(second, -30.0), best)
        margin = np.clip(x - rival, -WIDE, WIDE)
        below = np.clip(x - x.max(axis=1, keepdims=True), -2 * WIDE, 0.0)
        part = x.argmax(axis=0)
        every = np.arange(x.shape[1])
        table = np.column_stack([x[part, every], margin[part, every], below[part, every]])
        return table[self._back], part[self._back]
