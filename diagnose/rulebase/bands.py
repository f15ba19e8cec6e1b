"""The ends of the bands of a reading that is taken on the casting, as they are written."""

from __future__ import annotations

import re
from math import inf

from diagnose.rulebase.book import End, Window

_PART = re.compile(r"(?:(\d+(?:\.\d+)?)\s+)?(low|high)")


def written(end: End) -> tuple[float, str] | None:
    """Return the part of the window's end that an end is written as; None for a number or nothing.

    Raises ValueError where it is neither.

    >>> written("low"), written("0.85 low"), written(60.0)
    ((1.0, 'low'), (0.85, 'low'), None)
    """
    if not isinstance(end, str):
        return None
    match = _PART.fullmatch(end.strip())
    if match is None:
        raise ValueError(end)
    return float(match[1] or 1.0), match[2]


def edge(end: End, window: Window | None, without: float) -> float:
    """Return an end as a number; ``without`` where it is open.

    An end of the window that this job does not have lies beyond all readings, so that there is no
    band outside it.

    >>> edge("0.5 low", Window(source=(), low=80.0), -inf), edge("high", None, inf)
    (40.0, inf)
    """
    if isinstance(end, int | float):
        return float(end)
    part = None if end is None else written(end)
    if part is None:
        return without
    share, side = part
    value = None if window is None else getattr(window, side)
    if value is None:
        return -inf if side == "low" else inf
    return share * float(value)
