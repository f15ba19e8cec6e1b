"""Simulated sheets of a quarter with a planted truth, or with none: what the batch is tried on.

A sheet has 60 days of 4 heats; of each heat some boxes are poured, each of one pattern, on one
plate, by one moulder, with one maker's cores, from the start or the end of the ladle. Nothing here
is measured in a foundry: rates and spreads are chosen, and stand in the constants.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from diagnose.batch.statistics.cells import Cells, Factor, Floats, Ints
from diagnose.batch.statistics.movement import Reading

DAYS, HEATS_A_DAY, ROWS = 60, 4, 1500
PATTERNS, FAULTS = 12, 8
RATE = 0.012
"""Middle rate of a fault; those of faults and patterns spread about it by a factor of two."""
BOX = (8, 25)
"""Castings of a row, least and most."""
STEP_DAY = 36


@dataclass(frozen=True)
class Planted:
    """What is done to the first fault. ``ratio``: how many times its rate."""

    kind: str = "none"
    ratio: float = 1.0


@dataclass(frozen=True)
class Sheet:
    """A sheet: its cells, the day of each row, readings one a day, and the truth."""

    cells: Cells
    day: Ints
    readings: tuple[Reading, ...]
    truth: Planted
    size: Floats = field(repr=False)

    def by_day(self) -> Floats:
        """Return bad castings, days by faults."""
        columns = self.cells.bad.T
        return np.array([np.bincount(self.day, x, DAYS) for x in columns]).T


LEVELS = {
    "plate": 6,
    "box": 4,
    "moulder": 5,
    "core maker": 5,
    "ladle order": 6,
    "hour": 8,
    "lot": 6,
}


def _times(
    truth: Planted, codes: dict[str, Ints], day: Ints, heat: Ints, moisture: Floats
) -> Floats:
    """Return by how much the rate of the first fault is multiplied in each row."""
    one = np.ones(len(day))
    tests: dict[str, Callable[[], Floats]] = {
        "plate": lambda: np.where(codes["plate"] == 2, truth.ratio, one),
        "core maker": lambda: np.where(codes["core maker"] == 1, truth.ratio, one),
        "end of ladle": lambda: np.where(codes["ladle order"] >= 4, truth.ratio, one),
        "step": lambda: np.where(day >= STEP_DAY, truth.ratio, one),
        "drift": lambda: truth.ratio ** (day / (DAYS - 1)),
        "bad day": lambda: np.where(day == 25, truth.ratio, one),
        "heat": lambda: np.where(codes["furnace"] == 1, truth.ratio, one),
        "plate and maker": lambda: np.where(
            (codes["plate"] == 2) & (codes["core maker"] == 1), truth.ratio, one
        ),
        "moisture": lambda: truth.ratio ** ((moisture - moisture.mean()) / moisture.std()),
        "thin plate at night": lambda: np.where(codes["plate"] == 2, truth.ratio, one),
        "thin pattern at night": lambda: np.where(codes["pattern"] == 0, truth.ratio, one),
    }
    return tests[truth.kind]() if truth.kind in tests else one


def _codes(draw: np.random.Generator, truth: Planted) -> dict[str, Ints]:
    """Return what is known of each row; the confounded truths pour the thin things at night."""
    heat = np.sort(draw.integers(0, DAYS * HEATS_A_DAY, ROWS))
    codes = {name: draw.integers(0, count, ROWS) for name, count in LEVELS.items()}
    codes["heat"], codes["pattern"] = heat, draw.integers(0, PATTERNS, ROWS)
    codes["shift"] = (heat % HEATS_A_DAY >= 2).astype(np.int64)
    codes["furnace"] = draw.integers(0, 2, DAYS * HEATS_A_DAY)[heat]
    thin = {"thin plate at night": "plate", "thin pattern at night": "pattern"}.get(truth.kind)
    if thin:
        night = (codes["shift"] == 1) & (draw.random(ROWS) < 0.4)
        codes[thin] = np.where(night, 2 if thin == "plate" else 0, codes[thin])
    return codes


def sheet(seed: int, truth: Planted, between: float = 0.0) -> Sheet:
    """Return a sheet. ``between``: variance of the heats' own factors on the rate (gamma law)."""
    draw = np.random.default_rng(seed)
    codes = _codes(draw, truth)
    heat, day = codes["heat"], codes["heat"] // HEATS_A_DAY
    water = draw.normal(3.5, 0.3, DAYS)
    base = RATE * np.exp(draw.normal(0, 0.7, (PATTERNS, FAULTS)))
    own = np.ones((DAYS * HEATS_A_DAY, FAULTS))
    if between > 0:
        own = draw.gamma(1 / between, between, own.shape)
    rate = base[codes["pattern"]] * own[heat]
    rate[:, 0] *= _times(truth, codes, day, heat, water[day])
    poured = draw.integers(*BOX, ROWS)
    bad = draw.binomial(poured[:, None], np.minimum(rate, 0.9)).astype(float)
    names = (*LEVELS, "shift", "furnace")
    factors = [
        Factor(x, tuple(str(i) for i in range(int(codes[x].max()) + 1)), codes[x], x in ORDERED)
        for x in names
    ]
    faults = tuple(f"fault {i}" for i in range(FAULTS))
    cells = Cells(faults, bad, poured.astype(float), codes["pattern"], heat, tuple(factors))
    readings = [Reading("moisture", "Moisture", "%", water, 0.3)]
    readings += [Reading(f"r{i}", f"reading {i}", "", draw.normal(size=DAYS)) for i in range(5)]
    size = np.bincount(day, cells.poured, DAYS)
    return Sheet(cells, day, tuple(readings), truth, size)


ORDERED = ("ladle order", "hour")
