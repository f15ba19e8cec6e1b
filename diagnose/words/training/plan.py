"""How to train: figures that are the same for every run."""

from __future__ import annotations

from dataclasses import dataclass

TEACHERS = (1, 2, 3)
"""Seeds of the teachers."""
TEACH_STEPS = 2200


SMALL_STEPS, SMALL_SIZE = 1600, 96
"""Without a GPU: one network, no teachers, and texts enough for two cores and a night."""


@dataclass(frozen=True, slots=True)
class Plan:
    """How to train. ``taught``: the share that teachers have in what a text should say."""

    steps: int = 3200
    size: int = 384
    layers: tuple[int, ...] = (0, 1, 2, 3, 4, 5)
    seed: int = 0
    taught: float = 0.6
    workers: int = 3
