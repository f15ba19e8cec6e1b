"""Where a fault concentrates: its rate at one place beside its rate elsewhere."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import inf, log
from textwrap import wrap

from diagnose.batch.charts.signs import DRAWN, LEAST, WIDTH, Signs, bar
from diagnose.batch.charts.vector import (
    GREY,
    INK,
    WIDE,
    box,
    cut,
    line,
    picture,
    words,
)
from diagnose.batch.figures import chance, number, percent, ratio
from diagnose.batch.result import Concentration

_LEFT, _BARS, _SCALE, _EACH = 228.0, 410.0, 490.0, 40.0
_LEAST, _MOST = 0.25, 16.0
"""Ratios at the ends of the scale; an interval that runs over is cut off there."""


def place(one: Concentration) -> str:
    """Return where it is, in words.

    >>> place(Concentration("plate and core maker", "4 and C", "misrun", *[0.1] * 9))
    'plate 4 and core maker C'
    """
    factors, levels = one.factor.split(" and "), one.level.split(" and ")
    if len(factors) == len(levels):
        return " and ".join(f"{f} {v}" for f, v in zip(factors, levels, strict=True))
    return f"{one.factor} {one.level}"


def in_characters(
    these: Sequence[Concentration],
    names: Mapping[str, str],
    *,
    width: int = WIDTH,
    signs: Signs = DRAWN,
) -> list[str]:
    """Return lines for each place; ``names``: fault -> its name."""
    width = max(width, LEAST)
    most = max((max(one.rate, one.rate_elsewhere) for one in these), default=1.0) or 1.0
    left = width - 10 - 24
    rows = []
    for one in these:
        here = bar(one.rate / most, left, signs.full)
        else_ = bar(one.rate_elsewhere / most, left, signs.light)
        many = f"{percent(one.rate)} ({number(one.bad)} of {number(one.poured)})"
        times = f"{ratio(one.ratio, one.low, one.high)}, by chance: {chance(one.q)}"
        beside = " " * (10 if width > 50 else 2)
        rows += [
            *wrap(f"{names.get(one.defect, one.defect)}: {place(one)}", width),
            f"  here    {here} {many}",
            f"  else    {else_} {percent(one.rate_elsewhere)}",
            *wrap(times, width, initial_indent=beside, subsequent_indent=beside),
        ]
    return rows


def svg(these: Sequence[Concentration], names: Mapping[str, str]) -> str:
    """Return bars for here and elsewhere, and beside them the ratio with its interval."""
    most = max((max(one.rate, one.rate_elsewhere) for one in these), default=1.0) or 1.0
    bottom = 22 + _EACH * len(these)
    parts = [
        words(_LEFT, 8, "rate here (dark) and elsewhere (white)"),
        words(_SCALE, 8, "times as often, with 95 % interval"),
    ]
    for step in (0.25, 0.5, 1, 2, 4, 8, 16):
        x = _across(step)
        parts.append(line([(x, 18), (x, bottom)], width=1 if step == 1 else 0.3))
        parts.append(words(x, bottom + 9, f"{step:g}", anchor="middle"))
    for row, one in enumerate(these):
        parts += _row(one, 22 + _EACH * row, most, names)
    told = "; ".join(
        f"{names.get(one.defect, one.defect)}, {place(one)}: {percent(one.rate)} against "
        f"{percent(one.rate_elsewhere)} elsewhere, {ratio(one.ratio, one.low, one.high)}"
        for one in these
    )
    title = "Where the faults concentrate"
    return picture(title, told or "nowhere more than by chance", bottom + 20, parts)


def _row(one: Concentration, y: float, most: float, names: Mapping[str, str]) -> Iterator[str]:
    room = _BARS - _LEFT - 40
    yield words(_LEFT - 8, y + 8, cut(place(one), _LEFT - 24), anchor="end", bold=True)
    yield words(_LEFT - 8, y + 24, cut(names.get(one.defect, one.defect), _LEFT - 8), anchor="end")
    for rate, at, fill in ((one.rate, y + 1, GREY), (one.rate_elsewhere, y + 17, "#fff")):
        yield box(_LEFT, at, room * rate / most, 13, fill)
        yield words(_LEFT + room * rate / most + 5, at + 7, percent(rate))
    low, middle, high = (_across(each) for each in (one.low, one.ratio, one.high))
    yield line([(low, y + 15), (high, y + 15)], width=2)
    yield f'<circle cx="{middle:g}" cy="{y + 15:g}" r="4.5" fill="{INK}"/>'


def _across(times: float) -> float:
    """Return where a ratio stands on the scale of doublings."""
    held = _MOST if times == inf else min(max(times, _LEAST), _MOST)
    return _SCALE + (WIDE - 14 - _SCALE) * log(held / _LEAST) / log(_MOST / _LEAST)
