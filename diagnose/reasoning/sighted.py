"""Readings taken on the casting: a sight with a number, told by the band in which it lies."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

import numpy as np

from diagnose.engine.findings import band_likelihood
from diagnose.reasoning.setup import Desk
from diagnose.rulebase.bands import edge
from diagnose.rulebase.book import Measurement, Window

FEW = 6
"""So many defects are named at most for one reading."""
UNUSUAL = 3.0
"""A band so many times as common under a defect as it is usually speaks for that defect."""


def band_ends(measurement: Measurement, window: Window | None) -> list[tuple[float, float]]:
    """Return the low and high end of every band under a job's window, in the reading's unit."""
    return [
        (edge(band.between[0], window, -inf), edge(band.between[1], window, inf))
        for band in measurement.bands.values()
    ]


def sight_of(
    measurement: Measurement, window: Window | None, values: Sequence[float], error: float
) -> tuple[float, ...]:
    """Return the likelihood of readings under each band: virtual evidence on what is seen."""
    told = band_likelihood(values, band_ends(measurement, window), error)
    # Where the window of a shop leaves a gap between two bands, the reading says nothing.
    return told if sum(told) > 0.0 else (1.0,) * len(told)


def shown_by(desk: Desk, name: str, values: Sequence[float]) -> list[str]:
    """Return the few defects that readings on the casting speak for most, the first one most."""
    measurement, number = desk.book.measurements[name], desk.looks[name]
    window = desk.window(measurement)
    told = np.array(sight_of(measurement, window, values, measurement.repeatability))
    table = desk.model.looks[number]
    mixed = (table.rows @ told)[table.of_account[:-1]]
    usual = float(told @ table.rows[0])
    prior = np.exp(desk.model.log_prior[:-1])
    of_defect = desk.model.network.defect[:-1]
    shown = np.bincount(of_defect, mixed * prior, len(desk.book.defects))
    among = np.bincount(of_defect, prior, len(desk.book.defects))
    rates = {defect: shown[k] / among[k] for k, defect in enumerate(desk.book.defects) if among[k]}
    telling = [defect for defect, rate in rates.items() if rate >= UNUSUAL * usual]
    return sorted(telling, key=lambda defect: -rates[defect])[:FEW]
