"""The trend: one line for every chart, small, so that all of them can be seen at once."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from diagnose.batch.charts.control import columns, value
from diagnose.batch.charts.signs import DRAWN, LEAST, WIDTH, Signs
from diagnose.batch.charts.vector import WIDE, cut, diamond, line, picture, words
from diagnose.batch.result import Chart

LEAST_DRAWN = 12
"""Columns that a line of the trend needs; where there are fewer, it has a line to itself."""
_HIGH, _LEFT, _RIGHT = 34.0, 190.0, WIDE - 150.0


def in_characters(
    charts: Sequence[Chart], *, width: int = WIDTH, signs: Signs = DRAWN
) -> list[str]:
    """Return a line for every chart that has points: how it went, and from where to where."""
    shown = [chart for chart in charts if chart.points]
    tells = [_told(chart) for chart in shown]
    room = min(max((len(chart.name) for chart in shown), default=0), max(width, LEAST) // 3)
    left = max(width, LEAST) - room - 2 - max(map(len, tells), default=0)
    if left < LEAST_DRAWN:
        left = max(width, LEAST) - 2
        return [
            row
            for chart, told in zip(shown, tells, strict=True)
            for row in (
                *wrap(f"{chart.name}: {told}", left + 2),
                f"  {_drawn(chart, left, signs)}",
            )
        ]
    return [
        f"{cut_to(chart.name, room):<{room}} {_drawn(chart, left, signs)} {told}"
        for chart, told in zip(shown, tells, strict=True)
    ]


def _drawn(chart: Chart, room: int, signs: Signs) -> str:
    shown = columns(chart.points, chart.centre, room)
    most = max(point.value for point in shown) or 1.0
    steps = len(signs.levels) - 1
    return "".join(
        signs.levels[max(1, round(point.value / most * steps)) if point.value > 0 else 0]
        for point in shown
    )


def _told(chart: Chart) -> str:
    first, last = (value(chart, chart.points[at].value) for at in (0, -1))
    count = sum(1 for point in chart.points if point.rule)
    return f"{first} to {last}" + (f", {count} signal{'s'[: count > 1]}" if count else "")


def cut_to(text: str, room: int) -> str:
    """Return a text of at most ``room`` letters; a cut shows.

    >>> cut_to("blow from core gas", 10), cut_to("misrun", 10)
    ('blow fro..', 'misrun')
    """
    return text if len(text) <= room else f"{text[: room - 2]}.."


def svg(charts: Sequence[Chart]) -> str:
    """Return the trend as SVG: one small line for each chart, its signals as diamonds."""
    shown = [chart for chart in charts if chart.points]
    parts = []
    for row, chart in enumerate(shown):
        floor = _HIGH * (row + 1) - 4
        most = max(point.value for point in chart.points) or 1.0
        step = (_RIGHT - _LEFT) / max(len(chart.points) - 1, 1)
        places = [
            (_LEFT + at * step, floor - 24 * point.value / most)
            for at, point in enumerate(chart.points)
        ]
        first, last = (value(chart, chart.points[at].value) for at in (0, -1))
        parts += [
            words(_LEFT - 12, floor - 10, cut(chart.name, _LEFT - 12), anchor="end"),
            line([(_LEFT, floor), (_RIGHT, floor)], width=0.4),
            *([line(places, width=1.4)] if len(places) > 1 else []),
            *(diamond(*at) for at, one in zip(places, chart.points, strict=True) if one.rule),
            words(_RIGHT + 12, floor - 10, f"{first} to {last}"),
        ]
    told = "; ".join(
        f"{chart.name}: {value(chart, chart.points[0].value)} at {chart.points[0].at}, "
        f"{value(chart, chart.points[-1].value)} at {chart.points[-1].at}"
        for chart in shown
    )
    return picture("Trend", told or "no dates, so no trend", _HIGH * len(shown) + 8, parts)
