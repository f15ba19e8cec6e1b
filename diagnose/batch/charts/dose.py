"""The dose curve: the rate of a fault at rising values of a reading."""

from __future__ import annotations

from diagnose.batch.charts.signs import DRAWN, LEAST, WIDTH, Signs, bar
from diagnose.batch.charts.vector import GREY, WIDE, box, picture, words
from diagnose.batch.figures import number, percent
from diagnose.batch.result import Dose, Movement

_EACH, _LEFT = 22.0, 190.0


def span(step: Dose) -> str:
    """Return the values of a step.

    >>> span(Dose(0.1, 0.2, 1, 2)), span(Dose(float("-inf"), 3.0, 1, 2))
    ('0.1 to 0.2', 'below 3')
    """
    if step.low == float("-inf"):
        return f"below {step.high:.4g}"
    if step.high == float("inf"):
        return f"{step.low:.4g} or more"
    return f"{step.low:.4g} to {step.high:.4g}"


def rate(step: Dose) -> float:
    """Return the share of castings with the fault at a step."""
    return step.bad / step.poured if step.poured else 0.0


def in_characters(one: Movement, *, width: int = WIDTH, signs: Signs = DRAWN) -> list[str]:
    """Return one line for each step of a curve; none where there is no curve."""
    width = max(width, LEAST)
    most = max(map(rate, one.curve), default=1.0) or 1.0
    left = max((len(span(step)) for step in one.curve), default=0)
    tells = [_told(step) for step in one.curve]
    room = width - left - 2 - max(map(len, tells), default=0)
    return [
        f"{span(step):>{left}} {bar(rate(step) / most, room, signs.full)} {told}"
        for step, told in zip(one.curve, tells, strict=True)
    ]


def _told(step: Dose) -> str:
    return f"{percent(rate(step))} ({number(step.bad)} of {number(step.poured)})"


def svg(one: Movement, fault: str) -> str:
    """Return a curve as SVG; ``fault``: the name of what it is the rate of."""
    most = max(map(rate, one.curve), default=1.0) or 1.0
    parts = [words(_LEFT - 8, 9, _head(one), anchor="end"), words(_LEFT, 9, f"rate of {fault}")]
    for row, step in enumerate(one.curve):
        y = 20 + _EACH * row
        wide = (WIDE - _LEFT - 170) * rate(step) / most
        parts += [
            words(_LEFT - 8, y + 8, span(step), anchor="end"),
            box(_LEFT, y, wide, 16, GREY),
            words(_LEFT + wide + 6, y + 8, _told(step)),
        ]
    told = "; ".join(f"{span(step)} {one.unit}: {_told(step)}" for step in one.curve)
    heading = f"{fault} by {one.name}"
    return picture(heading, told or "no curve", 26 + _EACH * len(one.curve), parts)


def _head(one: Movement) -> str:
    """Return the head of the column of values, short enough to stand there."""
    return f"reading, {one.unit}" if one.unit else "reading"
