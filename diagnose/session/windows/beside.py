"""The shop's own windows held beside those of the book."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from diagnose.rulebase.book import Book, Scope, Window
from diagnose.rulebase.job import is_among
from diagnose.session.windows.file import ShopFile

Section = tuple[float | None, float | None]
SIDES = ("low", "high")


@dataclass(frozen=True, slots=True)
class Beside:
    """A window of the book that holds for some of the same castings as one of the shop's.

    ``off``: by how much the shop's low and high lie above the book's, where both are there.
    ``telling``: the sides on which they differ by more than a repeated test does, or on which
    only one of the two has an end.
    """

    window: Window
    off: dict[str, float]
    telling: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Own:
    """One window of the shop, the measurement that it is of, and the book's beside it."""

    measurement: str
    window: Window
    beside: tuple[Beside, ...]


def beside_the_book(book: Book, shop: ShopFile) -> Iterator[Own]:
    """Yield every window of the shop with those of the book that hold for the same castings.

    ``book``: as it is without the shop's windows.
    """
    for name, windows in shop.windows.items():
        measurement = book.measurements[name]
        scatter = shop.repeatability.get(name, measurement.repeatability)
        for window in windows:
            same = [
                _beside(window, theirs, scatter)
                for theirs in measurement.windows
                if _meet(window.scope, theirs.scope) and not _goes_before(windows, window, theirs)
            ]
            yield Own(name, window, tuple(same))


def _goes_before(windows: tuple[Window, ...], window: Window, theirs: Window) -> bool:
    """Tell whether for all that ``theirs`` is for, another of the shop's windows holds."""
    section = theirs.scope.section if theirs.scope else None
    if section is None or (window.scope and window.scope.section):
        return False
    others = (other.scope.section for other in windows if other.scope and other.scope.section)
    return any(_within(section, other) for other in others)


def _within(section: Section, other: Section) -> bool:
    low, high = section
    start, end = other
    return (start is None or (low is not None and start <= low)) and (
        end is None or (high is not None and high <= end)
    )


def _beside(ours: Window, theirs: Window, scatter: float) -> Beside:
    off: dict[str, float] = {}
    telling = []
    for side in SIDES:
        own, other = getattr(ours, side), getattr(theirs, side)
        if own is not None and other is not None:
            off[side] = round(own - other, 9)
        if (own is None) != (other is None) or abs(off.get(side, 0.0)) > scatter:
            telling.append(side)
    return Beside(theirs, off, tuple(telling))


def _meet(ours: Scope | None, theirs: Scope | None) -> bool:
    """Tell whether two scopes hold for some of the same castings."""
    if ours is None or theirs is None:
        return True
    return (
        _share(ours.metal, theirs.metal)
        and _share_process(ours.process, theirs.process)
        and _share_sections(ours.section, theirs.section)
    )


def _share(ours: tuple[str, ...], theirs: tuple[str, ...]) -> bool:
    return not ours or not theirs or bool({*ours} & {*theirs})


def _share_process(ours: tuple[str, ...], theirs: tuple[str, ...]) -> bool:
    return not ours or any(is_among(process, theirs) for process in ours)


def _share_sections(ours: Section | None, theirs: Section | None) -> bool:
    both = [section for section in (ours, theirs) if section is not None]
    starts = [low for low, _ in both if low is not None]
    ends = [high for _, high in both if high is not None]
    return max(starts, default=-math.inf) < min(ends, default=math.inf)
