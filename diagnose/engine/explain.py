"""How far each finding pushes each root condition, and how surprising it is beside the rest.

The push of a finding on a root condition is the change that it makes to the odds of that root
condition, all else that was found being kept: ten times the decimal logarithm of
odds(with) / odds(without), in decibans.

References
----------
I. J. Good, "Probability and the Weighing of Evidence" (1950) (from memory): weight of evidence
and the deciban.

"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from diagnose.engine.cliquetree import Floats
from diagnose.engine.model import Model
from diagnose.engine.posterior import Evidence, by_root, log_joint, normalised

SMALLEST_ODDS = 1e-12
"""Odds below this (and above its inverse) are held there, so that a push stays a finite number."""


@dataclass(frozen=True, slots=True)
class Pull:
    """What one finding does.

    ``decibans``: for each row of ``model.root_number``. ``expected``: P(this | all else found).
    """

    decibans: Floats
    expected: float


def decibans(probabilities: Floats) -> Floats:
    """Return 10 log10 of the odds of each probability.

    >>> decibans(np.array([0.5, 10 / 11])).round(9).tolist()
    [0.0, 10.0]
    """
    odds = probabilities / np.maximum(1.0 - probabilities, SMALLEST_ODDS)
    return np.asarray(10.0 * np.log10(np.clip(odds, SMALLEST_ODDS, 1.0 / SMALLEST_ODDS)))


def pushes(model: Model, evidence: Evidence, rests: Iterable[Evidence]) -> list[Pull]:
    """Return the push of whatever each of ``rests``, parts of the evidence, leaves out."""
    joint = log_joint(model, evidence)
    total = np.logaddexp.reduce(joint)
    odds = decibans(by_root(model, normalised(joint)))
    found = []
    for rest in rests:
        others = log_joint(model, rest)
        before = decibans(by_root(model, normalised(others)))
        expected = float(np.exp(total - np.logaddexp.reduce(others)))
        found.append(Pull(odds - before, expected))
    return found
