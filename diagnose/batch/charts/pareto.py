"""The Pareto: the faults in the order of how much they cost, with the share that they add up to."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from textwrap import wrap

from diagnose.batch.charts.signs import DRAWN, LEAST, WIDTH, Signs, bar
from diagnose.batch.charts.vector import GREY, WIDE, box, cut, line, picture, words
from diagnose.batch.figures import narrow, number, percent
from diagnose.batch.result import Bar, Batch

COUNT, WEIGHT, COST, PATTERN = "count", "weight", "cost", "pattern"
MOST = 12
"""Bars that are drawn; what comes after them is one bar."""
HEADS = {COUNT: "castings", WEIGHT: "kg", COST: "money", PATTERN: "castings"}
"""What is counted, as the head of a column."""
_OF: dict[str, Callable[[Bar], float | None]] = {
    COUNT: lambda one: one.count,
    WEIGHT: lambda one: one.weight,
    COST: lambda one: one.cost,
}


@dataclass(frozen=True, slots=True)
class Piece:
    """One bar as it is drawn: its share of the whole, and of it with all bars before it."""

    id: str
    name: str
    amount: float
    share: float
    running: float


def ways(batch: Batch) -> list[str]:
    """Return the ways in which this batch can be ordered: count, weight, cost, pattern."""
    known = [way for way in _OF if any(_OF[way](one) for one in batch.pareto)]
    return [*known, *([PATTERN] if len(batch.by_pattern) > 1 else [])]


def pieces(batch: Batch, by: str = COUNT) -> list[Piece]:
    """Return the bars, the largest first; one whose weight or cost is not known is left out."""
    amounts: list[tuple[str, str, float]]
    if by == PATTERN:
        amounts = [(name, name, scrapped) for name, scrapped, _ in batch.by_pattern]
    else:
        amounts = [(one.defect, one.name, _OF[by](one) or 0.0) for one in batch.pareto]
    amounts = sorted((one for one in amounts if one[2] > 0), key=lambda one: -one[2])
    whole, running, found = sum(amount for _, _, amount in amounts), 0.0, []
    for entry, name, amount in amounts:
        running += amount
        found.append(Piece(entry, name, amount, amount / whole, running / whole))
    return found


def first_of(these: Sequence[Piece], most: int = MOST) -> list[Piece]:
    """Return the first pieces, and all that come after them as one without an id."""
    if len(these) <= most + 1:
        return [*these]
    rest = these[most:]
    amount, share = sum(one.amount for one in rest), sum(one.share for one in rest)
    return [*these[:most], Piece("", f"{len(rest)} others", amount, share, 1.0)]


def left_out(batch: Batch, by: str) -> list[str]:
    """Return the faults whose weight or cost is not known."""
    return [] if by == PATTERN else [one.name for one in batch.pareto if _OF[by](one) is None]


def in_characters(
    batch: Batch, by: str = COUNT, *, width: int = WIDTH, signs: Signs = DRAWN
) -> list[str]:
    """Return the Pareto as lines of at most ``width`` columns."""
    rows = _lines(first_of(pieces(batch, by)), HEADS[by], max(width, LEAST), signs)
    lacking = ", ".join(left_out(batch, by))
    return rows + (wrap(f"Not known for: {lacking}", max(width, LEAST)) if lacking else [])


def _lines(these: Sequence[Piece], head: str, width: int, signs: Signs) -> list[str]:
    figure = max([len(head), *(len(number(one.amount)) for one in these)])
    longest = max((len(one.name) for one in these), default=10)
    room = max(4, min(longest, 26, width // 3, width - figure - 13))
    left = width - room - figure - 14
    most = max((one.share for one in these), default=1.0)
    rows = [f"{'':{room}} {head:>{figure}} share  sum"] if these else []
    for one in these:
        first, *more = wrap(one.name, room) or [""]
        share, running = narrow(one.share), f"{100 * one.running:.0f} %"
        drawn = bar(one.share / most, left, signs.full)
        amount = f"{number(one.amount):>{figure}}"
        rows.append(f"{first:{room}} {amount} {share:>5} {running:>5} {drawn}".rstrip())
        rows += more
    return rows


def svg(batch: Batch, by: str = COUNT) -> str:
    """Return the Pareto as SVG: bars, and the line of the share that they add up to."""
    these = first_of(pieces(batch, by))
    high, left, right = 22.0, 190.0, WIDE - 170.0
    most = max((one.share for one in these), default=1.0)
    parts, across = [], []
    for row, one in enumerate(these):
        y = 24 + high * row
        wide = (right - left) * one.share / most
        parts += [
            words(left - 8, y + 8, cut(one.name, left - 8), anchor="end"),
            box(left, y, wide, 16, GREY),
            words(WIDE - 62, y + 8, f"{number(one.amount)}, {percent(one.share)}", anchor="end"),
            words(WIDE, y + 8, f"{100 * one.running:.0f} %", anchor="end"),
        ]
        across.append((left + (right - left) * one.running, y + 8))
    parts += [
        words(WIDE - 62, 10, f"{HEADS[by]}, share", anchor="end"),
        words(WIDE, 10, "sum", anchor="end"),
    ]
    if len(across) > 1:
        parts.append(line(across, width=1.4, dash="4 3"))
    said = "; ".join(f"{one.name}: {number(one.amount)}, {percent(one.share)}" for one in these)
    title = f"Pareto by {by}"
    return picture(title, said or "no scrap", 30 + high * len(these), parts)
