"""The bench of the batch, a short version: it plants what it says, and noise is quiet."""

from __future__ import annotations

import numpy as np

from tests.bench.batch_power import RATE, noise, noise_row, scored, truth_row
from tests.bench.batch_sheets import STEP_DAY, Planted, sheet


def test_sheets_hold_what_is_planted() -> None:
    made = sheet(1, Planted("step", 4.0))
    counts = made.by_day()[:, 0] / made.size
    assert counts[STEP_DAY:].mean() > 2 * counts[:STEP_DAY].mean()
    again = sheet(1, Planted("step", 4.0))
    assert (again.cells.bad == made.cells.bad).all()


def test_strong_truths_are_found() -> None:
    for truth in (Planted("plate", 3.0), Planted("step", 3.0)):
        row = truth_row(truth, 0.0, [scored(sheet(i, truth)) for i in range(2)])
        assert row["found"] == 1.0
        assert row["wrongly blamed"] == 0.0


def test_noise_keeps_to_the_stated_rate() -> None:
    row = noise_row(0.4, [noise(600 + i, 0.4) for i in range(8)])
    allowed = RATE + 3 * np.sqrt(RATE * (1 - RATE) / 8)
    for name in ("concentration", "change", "chart", "reading"):
        assert float(str(row[name])) <= allowed
