"""``python -m tests.bench.batch_power``: what the batch finds, and how often it cries wolf.

Planted truths on simulated sheets: how often each is found where it is, by what, and how far off
its date is. Then sheets of pure noise, without and with spread between heats: on how many does
anything at all signal, beside the stated rate. ``--sheets N`` a truth, ``--noise N`` of noise.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import time
from collections.abc import Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, dataclass
from datetime import date, timedelta

import numpy as np

from diagnose.batch.result import Change, Chart, Concentration, Movement
from diagnose.batch.statistics.change import changes
from diagnose.batch.statistics.charts import Series, chart, charts
from diagnose.batch.statistics.concentration import concentrations
from diagnose.batch.statistics.movement import movements
from tests.bench.batch_sheets import DAYS, STEP_DAY, Planted, Sheet, sheet

START = date(2026, 1, 5)
DATES = tuple(START + timedelta(days=i) for i in range(DAYS))
SPREADS = (0.0, 0.4)
RATE = 0.05

TRUTHS = (
    Planted("plate", 1.6),
    Planted("plate", 2.2),
    Planted("core maker", 1.6),
    Planted("core maker", 2.2),
    Planted("end of ladle", 1.6),
    Planted("end of ladle", 2.2),
    Planted("heat", 1.6),
    Planted("heat", 2.2),
    Planted("plate and maker", 4.0),
    Planted("step", 1.6),
    Planted("step", 2.2),
    Planted("drift", 2.5),
    Planted("bad day", 5.0),
    Planted("moisture", 1.3),
    Planted("thin plate at night", 2.2),
    Planted("thin pattern at night", 2.2),
)

PLACES = {
    "plate": ("plate", "2"),
    "core maker": ("core maker", "1"),
    "end of ladle": ("ladle order", "4 and later"),
    "heat": ("furnace", "1"),
    "plate and maker": ("plate and core maker", "2 and 1"),
    "thin plate at night": ("plate", "2"),
}


@dataclass(frozen=True)
class Found:
    """What was made of one sheet."""

    concentrations: tuple[Concentration, ...]
    changes: tuple[Change, ...]
    charts: tuple[Chart, ...]
    movements: tuple[Movement, ...]
    plain: int
    """Points that one chart alone would mark, over all charts of the sheet."""


def series(made: Sheet) -> list[Series]:
    """Return the day's counts of each fault, and of all."""
    counts, at = made.by_day(), tuple(x.isoformat() for x in DATES)
    some = [Series(x, x, at, counts[:, i], made.size) for i, x in enumerate(made.cells.faults)]
    return [*some, Series("all", "", at, counts.sum(axis=1), made.size)]


def worked(made: Sheet) -> Found:
    """Return everything that the statistics say of a sheet."""
    lines = series(made)
    alone = sum(bool(x.rule) for line in lines for x in chart(line).points)
    stepped = changes(made.cells.faults, DATES, made.by_day(), made.size, draws=499)
    moved = movements(made.cells, made.readings, made.day)
    return Found(concentrations(made.cells), stepped, charts(lines), moved, alone)


def signals(found: Found) -> list[str]:
    """Return the charts with a signal, by fault."""
    return [x.defect for x in found.charts if any(p.rule for p in x.points)]


@dataclass(frozen=True)
class Score:
    """Of one sheet: was the truth found, where it is, and what else was blamed."""

    found: bool
    by_chart: bool
    days_off: float | None
    within: bool
    blamed: int
    others: int
    ratio: float | None


def scored(made: Sheet) -> Score:
    """Return how a sheet with a planted truth went."""
    found, kind = worked(made), made.truth.kind
    mine = [x for x in found.concentrations if x.defect == "fault 0" and not x.explained_by]
    place = PLACES.get(kind)
    hit = [x for x in mine if place and (x.factor, x.level) == place]
    if kind == "end of ladle":
        hit = [x for x in mine if x.factor == "ladle order" and x.level.endswith("later")]
    step = next((x for x in found.changes if x.defect == "fault 0"), None)
    charted = "fault 0" in signals(found)
    off, within = None, False
    if step and kind == "step":
        first, last = ((x - START).days for x in step.between)
        off, within = abs((first + last) / 2 - STEP_DAY), first <= STEP_DAY <= last
    seen = bool(hit)
    if kind in ("step", "drift"):
        seen = step is not None
    if kind == "bad day":
        seen = charted
    if kind == "moisture":
        seen = any(x.quantity == "moisture" and x.defect == "fault 0" for x in found.movements)
    blamed = sum(x not in hit for x in mine)
    if kind == "thin pattern at night":
        seen = not blamed  # the pattern is what is compared within: nothing is to be found
    others = sum(x.defect != "fault 0" for x in found.concentrations)
    return Score(seen, charted, off, within, blamed, others, hit[0].ratio if hit else None)


@dataclass(frozen=True)
class Quiet:
    """Of one sheet of noise: what was found that is not there."""

    concentrated: int
    changed: int
    charted: int
    moved: int
    plain: int


def noise(seed: int, between: float) -> Quiet:
    """Return what is found on a sheet on which there is nothing to find."""
    found = worked(sheet(seed, Planted(), between))
    made = len(found.concentrations), len(found.changes), len(signals(found))
    return Quiet(*made, len(found.movements), found.plain)


def _noise(job: tuple[int, float]) -> Quiet:
    return noise(*job)


def _scored(job: tuple[int, Planted, float]) -> Score:
    seed, truth, between = job
    return scored(sheet(seed, truth, between))


def truth_row(truth: Planted, between: float, scores: Sequence[Score]) -> dict[str, object]:
    """Return one line of the table of truths."""
    off = [x.days_off for x in scores if x.days_off is not None]
    ratios = [x.ratio for x in scores if x.ratio is not None]
    dated = [x.within for x in scores if x.days_off is not None]
    return {
        "truth": truth.kind,
        "ratio": truth.ratio,
        "between": between,
        "sheets": len(scores),
        "found": np.mean([x.found for x in scores]),
        "charted": np.mean([x.by_chart for x in scores]),
        "wrongly blamed": np.mean([x.blamed > 0 for x in scores]),
        "days off": float(np.median(off)) if off else None,
        "date within": float(np.mean(dated)) if dated else None,
        "ratio found": float(np.median(ratios)) if ratios else None,
    }


def noise_row(between: float, quiet: Sequence[Quiet]) -> dict[str, object]:
    """Return one line of the table of false alarms: sheets with any, out of all."""
    table = np.array([list(asdict(x).values()) for x in quiet])
    any_at_all = (table[:, :4] > 0).mean(axis=0)
    names = ("concentration", "change", "chart", "reading")
    row: dict[str, object] = {"between": between, "sheets": len(quiet)}
    row |= dict(zip(names, any_at_all.tolist(), strict=True))
    return row | {"plain marks a sheet": float(table[:, 4].mean())}


def shown(value: object) -> str:
    """Return a cell of a table: two digits of a number, nothing for nothing."""
    if isinstance(value, float):
        return f"{value:.2f}"
    return "" if value is None else str(value)


def printed(rows: Iterable[dict[str, object]]) -> str:
    """Return rows as a table of plain characters."""
    lines = list(rows)
    cells = [list(lines[0])]
    cells += [[shown(x) for x in row.values()] for row in lines]
    wide = [max(len(x[i]) for x in cells) for i in range(len(cells[0]))]
    return "\n".join("  ".join(x.rjust(w) for x, w in zip(row, wide, strict=True)) for row in cells)


def main(arguments: Sequence[str]) -> None:
    """Print both tables, and the JSON on the last line."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--sheets", type=int, default=20)
    parser.add_argument("--noise", type=int, default=200)
    asked = parser.parse_args(arguments)
    started = time.perf_counter()
    with ProcessPoolExecutor(max(1, os.cpu_count() or 1)) as pool:
        quiet = []
        for between in SPREADS:
            jobs = [(10_000 + i, between) for i in range(asked.noise)]
            quiet.append(noise_row(between, list(pool.map(_noise, jobs, chunksize=5))))
        print(printed(quiet), "\n", flush=True)
        told = []
        for truth in TRUTHS:
            for between in SPREADS:
                work = [(i, truth, between) for i in range(asked.sheets)]
                told.append(truth_row(truth, between, list(pool.map(_scored, work, chunksize=5))))
                print(f"{truth.kind} {truth.ratio:g} {between:g} done", file=sys.stderr, flush=True)
    print(printed(told))
    seconds = round(time.perf_counter() - started, 1)
    print(json.dumps({"stated": RATE, "noise": quiet, "truths": told, "seconds": seconds}))


if __name__ == "__main__":
    main(sys.argv[1:])
