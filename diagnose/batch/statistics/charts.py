"""Control charts of a batch: the chart that fits, its limits, and which points are signals.

Limits at three sigma give one false alarm in 370 points of one chart. A sheet has a dozen charts
of sixty points, so that every sheet of pure noise would show two or three "signals". Points are
therefore judged together, over all charts of the sheet (``judged``): with the default rate of
0.05, nineteen of twenty sheets of pure noise show no signal at all.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from diagnose.batch.result import Chart, Point
from diagnose.batch.statistics.cells import Bools, Floats
from diagnose.batch.statistics.limits import (
    FEW,
    Kind,
    Limits,
    by_chance,
    fitting,
    shewhart,
    sigma,
    smoothed,
    unsure,
)
from diagnose.batch.statistics.limits import spread as sigma_z
from diagnose.batch.statistics.rules import BEYOND, SIGNAL, run_chance, run_rules
from diagnose.batch.statistics.tails import at_least, false_discovery

RATE = 0.05
DRIFT = "drift"
FEWEST = 8
"""Points below which no chart is drawn: there is nothing yet to tell a signal from."""

Limit = Literal["fitting", "sigma", "chance"]


@dataclass(frozen=True, slots=True)
class Series:
    """What a chart is made of: ``count`` of ``size`` at each of ``at``, in order of time.

    ``kind``: ``p`` for bad castings of castings poured, ``u`` for faults on castings, ``shares``
    for castings of one fault out of all scrapped, where nobody knows how many were poured.
    """

    name: str
    defect: str
    at: tuple[str, ...]
    count: Floats
    size: Floats
    kind: Literal["p", "u", "shares"] = "p"


def _law(series: Series) -> Kind:
    return "u" if series.kind == "u" else "p"


def _poured(series: Series) -> Series:
    """Return the series without the points at which nothing was poured."""
    keep = series.size > 0
    if keep.all():
        return series
    at = tuple(x for x, kept in zip(series.at, keep, strict=True) if kept)
    return replace(series, at=at, count=series.count[keep], size=series.size[keep])


def _points(
    series: Series, values: Floats, limits: Limits, rules: Sequence[str], chance: Floats
) -> tuple[Point, ...]:
    numbers = np.column_stack(
        [series.count, series.size, values, limits.low, limits.high, chance]
    ).tolist()
    named = zip(series.at, rules, numbers, strict=True)
    return tuple(
        Point(at, x, n, value, low, high, rule, p)
        for at, rule, (x, n, value, low, high, p) in named
    )


def chart(
    series: Series,
    *,
    rules: Sequence[str] = SIGNAL,
    limits: Limit = "fitting",
    spread: float | None = None,
) -> Chart:
    """Return the Shewhart chart of a series, its points marked by the rules of one chart alone.

    ``spread``: sigma_z to use; else 1, or sigma_z where the points differ by more than chance
    (``limits.fitting`` states the rule). ``limits``: ``sigma`` for three sigma either way,
    ``chance`` for limits that 0.00135 of the points pass; ``fitting`` takes the second where a
    typical point expects fewer than nine bad castings.
    """
    series = _poured(series)
    count, size, kind = series.count, series.size, _law(series)
    widened = fitting(count, size, kind) if spread is None else spread
    few = float(np.median(size)) * float(count.sum() / size.sum()) < FEW
    drawn = limits == "chance" or (limits == "fitting" and few)
    made = (by_chance if drawn else shewhart)(count, size, kind, widened=widened)
    values = count / size
    found = run_rules(made.off)
    found[BEYOND] = (values > made.high + 1e-12) | (values < made.low - 1e-12)
    names = _first(found, rules, len(size))
    chance = _chances(series, widened if spread is None else spread, spread is None)
    kinds = {"p": "laney p", "u": "laney u"}
    name = series.kind if widened == 1.0 or series.kind == "shares" else kinds[series.kind]
    points = _points(series, values, made, names, chance)
    return Chart(series.name, name, series.defect, made.centre, points, float(widened))


def _judging(series: Series, widened: float, free: bool) -> float:
    """Return the spread that points are judged by: sigma_z, even where the chart does without."""
    return max(widened, sigma_z(series.count, series.size, _law(series))) if free else widened


def _chances(series: Series, widened: float, free: bool) -> Floats:
    """Return how often chance makes each point, or a run that ends in it."""
    count, size, kind = series.count, series.size, _law(series)
    wide = _judging(series, widened, free)
    made = shewhart(count, size, kind, widened=wide)
    mean = made.centre * size
    variance = (sigma(made.centre, size, kind) * wide * size) ** 2
    above = at_least(np.floor(mean) + 1, mean, variance)
    below = 1 - at_least(np.ceil(mean), mean, variance)
    runs = run_chance(made.off, above, below)
    single = np.maximum(made.chance, unsure(made.off, len(size), wide))
    found: Floats = np.minimum(1.0, 2 * np.minimum(single, runs))
    return found


def _first(found: dict[str, Bools], rules: Sequence[str], n: int) -> list[str]:
    """Return for every point the first of the rules that it breaks."""
    names = [""] * n
    for rule in reversed(rules):
        for i in np.flatnonzero(found[rule]):
            names[int(i)] = rule
    return names


def ewma(
    series: Series, *, weight: float = 0.2, width: float = 3.0, spread: float | None = None
) -> Chart:
    """Return the EWMA chart of a series: slow drift shows here before it does elsewhere."""
    series = _poured(series)
    kind = _law(series)
    widened = fitting(series.count, series.size, kind) if spread is None else spread
    values, made = smoothed(
        series.count, series.size, kind, weight=weight, width=width, widened=widened
    )
    names = [DRIFT if x else "" for x in np.abs(made.off) > width]
    wide = _judging(series, widened, spread is None)
    judge = smoothed(series.count, series.size, kind, weight=weight, widened=wide)[1]
    chance = np.maximum(judge.chance, unsure(judge.off, len(values), wide))
    points = _points(series, values, made, names, chance)
    return Chart(series.name, "ewma", series.defect, made.centre, points, float(widened))


def judged(charts: Sequence[Chart], rate: float = RATE) -> tuple[Chart, ...]:
    """Return the charts with the rules left only on points that are signals of the whole sheet.

    The chances of all points of all charts are one family for Benjamini and Hochberg: on a sheet
    of pure noise the chance of any signal is ``rate``; on others ``rate`` of the signals are false.
    A run on one side counts with its length, 1 in 2 to the power of it less one.
    """
    chances = np.array([x.p for chart in charts for x in chart.points])
    kept = iter((false_discovery(chances) <= rate).tolist())

    def marked(point: Point, kind: str) -> Point:
        if not next(kept):
            return replace(point, rule="")
        if point.rule:
            return point
        return replace(point, rule=DRIFT if kind == "ewma" else BEYOND)

    return tuple(
        replace(chart, points=tuple(marked(x, chart.kind) for x in chart.points))
        for chart in charts
    )


def charts(series: Sequence[Series], rate: float = RATE) -> tuple[Chart, ...]:
    """Return the charts of a sheet: for each series that fits and EWMA, judged together.

    Series with fewer than ``FEWEST`` points, or none bad, are left out.
    """
    drawn: list[Chart] = []
    for one in series:
        if (one.size > 0).sum() >= FEWEST and one.count.sum() > 0:
            first = chart(one)
            drawn += [first, ewma(one)]
    return judged(drawn, rate)
