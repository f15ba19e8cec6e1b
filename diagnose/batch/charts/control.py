"""The control chart: each point with its limits, the signals, and where the rate changed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from textwrap import wrap

from diagnose.batch.charts.signs import DRAWN, LEAST, WIDTH, Signs
from diagnose.batch.charts.vector import (
    PALE,
    WIDE,
    cut,
    diamond,
    dot,
    line,
    picture,
    words,
)
from diagnose.batch.figures import days, percent
from diagnose.batch.result import Change, Chart, Point

KINDS = {
    "p": "Share of castings scrapped (p chart)",
    "u": "Defects a casting (u chart)",
    "laney p": "Share of castings scrapped (p chart with Laney's correction)",
    "laney u": "Defects a casting (u chart with Laney's correction)",
    "ewma": "Smoothed share, in which a slow drift shows (EWMA chart)",
    "shares": "Share of all scrap",
}
SMOOTHED = "ewma"
HIGH = 10
_TALL, _LEFT, _TOP = 190.0, 46.0, 16.0


def value(chart: Chart, figure: float) -> str:
    """Return a value of a chart: defects a casting as a number, all else in per cent."""
    return f"{figure:.3g}" if chart.kind.endswith("u") else percent(figure)


def about(chart: Chart) -> str:
    """Return in a line what a chart shows and what its spread says."""
    kind = KINDS.get(chart.kind, chart.kind)
    spread = ""
    if chart.kind.startswith("laney"):
        spread = f"; the spread is {chart.spread:.2f} times that of chance alone"
    return f"{kind}, middle {value(chart, chart.centre)}{spread}"


def signals(chart: Chart) -> list[Point]:
    """Return the points that break a run rule."""
    return [point for point in chart.points if point.rule]


def said(chart: Chart, changes: Iterable[Change] = ()) -> list[str]:
    """Return in words what a chart shows: its signals, runs of one rule together; its steps."""
    told = [
        f"{_span(run)}: {', '.join(value(chart, one.value) for one in run[:4])}"
        f"{' ...' if len(run) > 4 else ''}, {run[0].rule}"
        for run in _runs(chart.points)
    ]
    told += [
        f"step between {days(*change.between, 'and')}: {value(chart, change.before)} before, "
        f"{value(chart, change.after)} after"
        for change in _of(chart, changes)
    ]
    return told or ["No signal: what is seen is chance, as far as this chart can tell."]


def _span(run: Sequence[Point]) -> str:
    """Return from where to where a run goes: days in words, all else as it is called."""
    first, last = run[0].at, run[-1].at
    with suppress(ValueError):
        return days(date.fromisoformat(first), date.fromisoformat(last))
    return first if first == last else f"{first} to {last}"


def _runs(points: Iterable[Point]) -> list[list[Point]]:
    runs: list[list[Point]] = []
    before = ""
    for point in points:
        if point.rule and point.rule == before:
            runs[-1].append(point)
        elif point.rule:
            runs.append([point])
        before = point.rule
    return runs


def _of(chart: Chart, changes: Iterable[Change]) -> list[Change]:
    return [change for change in changes if change.defect == chart.defect]


def columns(points: Sequence[Point], centre: float, room: int) -> list[Point]:
    """Return at most ``room`` points: of several for one column a signal, or what is farthest out.

    >>> p = [Point(str(n), n, 10, n / 10, 0, 1, "x" if n == 1 else "") for n in range(6)]
    >>> [point.at for point in columns(p, 0.0, 3)]
    ['1', '3', '5']
    """
    each = -(-len(points) // room) if points else 1
    groups = [points[at : at + each] for at in range(0, len(points), each)]
    return [
        max(group, key=lambda one: (bool(one.rule), abs(one.value - centre))) for group in groups
    ]


def in_characters(
    chart: Chart,
    changes: Sequence[Change] = (),
    *,
    width: int = WIDTH,
    high: int = HIGH,
    signs: Signs = DRAWN,
) -> list[str]:
    """Return a chart as lines of at most ``width`` columns, with ``high`` rows for the points."""
    width = max(width, LEAST)
    if not chart.points:
        return [f"{chart.name}: no points"]
    top = _top(chart)
    labels = {row: value(chart, top * (high - 1 - row) / (high - 1)) for row in (0, high - 1)}
    labels[_row(chart.centre, top, high)] = value(chart, chart.centre)
    left = max(map(len, labels.values()))
    shown = columns(chart.points, chart.centre, width - left - 2)
    step = max(1, min((width - left - 2) // len(shown), 6))
    cells = _cells(chart, shown, (step, high, top), signs)
    rows = [
        f"{labels.get(row, ''):>{left}} {signs.side}{''.join(cells[row])}" for row in range(high)
    ]
    rows.append(f"{'':{left}} {signs.corner}{signs.floor * (step * len(shown))}")
    rows += _below(chart, shown, changes, step, left, width, signs)
    each = -(-len(chart.points) // len(shown))
    if each > 1:
        told = f"Each column is {each} points: a signal, or the one farthest from the middle."
        rows += wrap(told, width)
    return [row.rstrip()[:width] for row in rows]


def _top(chart: Chart) -> float:
    return max((max(one.high, one.value) for one in chart.points), default=1.0) or 1.0


def _row(figure: float, top: float, high: int) -> int:
    return high - 1 - round(max(0.0, min(figure / top, 1.0)) * (high - 1))


def _cells(
    chart: Chart, shown: Sequence[Point], size: tuple[int, int, float], signs: Signs
) -> list[list[str]]:
    step, high, top = size
    cells = [[" "] * (step * len(shown)) for _ in range(high)]
    middle = _row(chart.centre, top, high)
    for at, point in enumerate(shown):
        for column in range(at * step, (at + 1) * step):
            cells[_row(point.high, top, high)][column] = signs.limit
            if point.low > 0:
                cells[_row(point.low, top, high)][column] = signs.limit
            cells[middle][column] = signs.centre
        spot = at * step + step // 2
        cells[_row(point.value, top, high)][spot] = signs.signal if point.rule else signs.point
    return cells


def _below(
    chart: Chart,
    shown: Sequence[Point],
    changes: Sequence[Change],
    step: int,
    left: int,
    width: int,
    signs: Signs,
) -> list[str]:
    """Return the lines below the floor: where the steps are, and the first and last point."""
    rows = []
    for change in _of(chart, changes):
        spots = [at for at, point in enumerate(shown) if _within(point.at, change)]
        if spots:
            before = " " * (spots[0] * step)
            rows.append(f"{'':{left}}  {before}{signs.mark * (step * len(spots))} step")
    first, last = shown[0].at, shown[-1].at
    wide = max(step * len(shown), len(first) + len(last) + 2)
    if wide > width - left - 2:
        return [*rows, f"{'':{left}}  {first} to", f"{'':{left}}  {last}"]
    rows.append(f"{'':{left}}  {first}{last:>{wide - len(first)}}" if len(shown) > 1 else first)
    return rows


def _within(at: str, change: Change) -> bool:
    with suppress(ValueError):
        first, last = change.between
        return first <= date.fromisoformat(at) <= last
    return False


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where points stand in the vector drawing: so many of them, up to a value of ``top``."""

    count: int
    top: float

    @property
    def half(self) -> float:
        return (WIDE - _LEFT - 8) / max(self.count, 1) / 2

    def x(self, at: float) -> float:
        return _LEFT + (2 * at + 1) * self.half

    def y(self, figure: float) -> float:
        return _TOP + _TALL * (1 - figure / (1.08 * self.top))


def svg(chart: Chart, changes: Sequence[Change] = ()) -> str:
    """Return a chart as SVG: points, limits, middle, signals as black diamonds, steps as a band."""
    frame = _Frame(len(chart.points), _top(chart))
    floor = frame.y(0)
    parts = [*_bands(chart, changes, frame)]
    parts.append(line([(_LEFT, _TOP), (_LEFT, floor), (WIDE - 4, floor)]))
    parts.append(line([(_LEFT, frame.y(chart.centre)), (WIDE - 4, frame.y(chart.centre))]))
    parts += [
        words(_LEFT - 5, frame.y(figure), value(chart, figure), anchor="end")
        for figure in (0.0, chart.centre, frame.top)
    ]
    parts += [*_limits(chart, frame), *_points(chart, frame)]
    told = f"{chart.name}: {about(chart)}. {'; '.join(said(chart, changes))}"
    return picture(f"Control chart of {chart.name}", told, _TOP + _TALL + 30, parts)


def _limits(chart: Chart, frame: _Frame) -> Iterator[str]:
    for side in ("high", "low"):
        if any(getattr(point, side) > 0 for point in chart.points):
            ends = [
                (frame.x(at) + off, frame.y(getattr(point, side)))
                for at, point in enumerate(chart.points)
                for off in (-frame.half, frame.half)
            ]
            yield line(ends, dash="3 3")


def _points(chart: Chart, frame: _Frame) -> Iterator[str]:
    places = [(frame.x(at), frame.y(point.value)) for at, point in enumerate(chart.points)]
    if len(places) > 1:
        yield line(places, width=1.2)
    for place, point in zip(places, chart.points, strict=True):
        yield diamond(*place) if point.rule else dot(*place)
    every = -(-len(places) // 7) if places else 1
    for at, point in enumerate(chart.points):
        if at % every == 0:
            spot = min(max(frame.x(at), 36), WIDE - 36)
            yield words(spot, frame.y(0) + 14, cut(point.at, 90), anchor="middle")


def _bands(chart: Chart, changes: Iterable[Change], frame: _Frame) -> Iterator[str]:
    for change in _of(chart, changes):
        spots = [at for at, point in enumerate(chart.points) if _within(point.at, change)]
        if spots:
            start, end = frame.x(spots[0]) - frame.half, frame.x(spots[-1]) + frame.half
            yield (
                f'<rect x="{start:g}" y="{_TOP:g}" width="{end - start:g}" height="{_TALL:g}" '
                f'fill="{PALE}"/>'
            )
            yield words((start + end) / 2, _TOP - 7, "step", anchor="middle")
