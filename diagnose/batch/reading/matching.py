"""Castings scrapped held against those poured: what fits, and what may be filled in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from diagnose.batch.reading.counting import numbered
from diagnose.batch.reading.data import Arrays, Codes

if TYPE_CHECKING:
    from diagnose.batch.reading.layout import Page
    from diagnose.batch.reading.scrap import Part

KEYS = ("day", "heat", "ladle", "pattern")
"""By what a casting scrapped is found among those poured."""
TOO_MANY = 0.2
"""Share of the lines from which the two sheets do not belong together."""
TINY = 1e-9
ENOUGH = 0.5
"""Share of the lines for which a factor must be known from the sheet of poured to be taken up."""


def filled_in(lines: Arrays, poured: Arrays, factors: list[str], made: Sequence[str]) -> list[str]:
    """Take from the castings poured what the scrap sheet leaves out and only one way fits.

    ``factors``: those of the scrap; one that only the poured have is added if it is known for
    enough lines. Returns what to say of it.
    """
    if not poured:
        return []
    remarks = []
    size = len(lines["day"])
    for factor in made:
        keys = [key for key in KEYS if key != factor and _known(lines, key) and _known(poured, key)]
        own = lines.get(factor, np.full(size, -1, dtype=np.int32))
        open_ones = own < 0
        if not keys or not open_ones.any() or "day" not in keys:
            continue
        only, some = _only_level(lines, poured, keys, factor)
        found = np.where(open_ones, only, own).astype(np.int32)
        gained = int(((found >= 0) & open_ones).sum())
        if factor not in factors and (found >= 0).sum() < ENOUGH * some.sum():
            continue
        if gained:
            remarks.append(
                f"In {gained} lines the {factor} is that of the castings poured: only one fits."
            )
        lines[factor] = found
        if factor not in factors:
            factors.append(factor)
    return remarks


def _known(table: Arrays, key: str) -> bool:
    nothing = 0 if key == "day" else -1
    return key in table and bool((table[key] > nothing).mean() > ENOUGH)


def _only_level(
    lines: Arrays, poured: Arrays, keys: Sequence[str], factor: str
) -> tuple[Codes, NDArray[np.bool_]]:
    """Return for each line the one level that was poured under its keys, -1 if none or several.

    And whether any was: a casting without a core has no core maker.
    """
    of_lines, of_poured = _same_cells(lines, poured, keys)
    top = int(max(of_lines.max(initial=0), of_poured.max(initial=0))) + 1
    least = np.full(top, np.iinfo(np.int32).max, dtype=np.int32)
    most = np.full(top, -1, dtype=np.int32)
    np.minimum.at(least, of_poured, poured[factor])
    np.maximum.at(most, of_poured, poured[factor])
    level = np.where(least == most, most, -1)
    return np.asarray(level[of_lines], dtype=np.int32), np.asarray((most >= 0)[of_lines])


def _same_cells(
    lines: Arrays, poured: Arrays, keys: Sequence[str]
) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Return the number of the cell of each line and of each entry of the castings poured."""
    _, cell = numbered([np.concatenate([lines[key], poured[key]]) for key in keys])
    return cell[: len(lines["day"])], cell[len(lines["day"]) :]


def keep_matched(
    sheets: Sequence[tuple[Page, Part]], lines: Arrays, poured: Arrays, factors: Sequence[str]
) -> tuple[Arrays, list[str]]:
    """Set the lines aside of which more castings were scrapped than poured.

    Counted by day, heat and pattern, as far as both know them: first rows that are too many by
    themselves, then all of a pouring whose rest still is. Where that is so for much of the scrap
    the two do not belong together: then nothing is set aside, and there are no castings poured.
    Changes ``lines``; returns the castings poured and what to say.
    """
    keys = [
        key for key in ("day", "heat", "pattern")
        if key in poured and (key == "day" or key in factors) and _known(poured, key)
    ]  # fmt: skip
    if not poured or not keys:
        return poured, []
    known = np.logical_and.reduce([lines[k] > (0 if k == "day" else -1) for k in keys])
    of_lines, of_poured = _same_cells(lines, poured, keys)
    top = int(max(of_lines.max(initial=0), of_poured.max(initial=0))) + 1
    made = np.bincount(of_poured, poured["castings"], top).astype(np.float64)
    alone = known & (lines["castings"] > made[of_lines] + TINY)
    left = lines["castings"] * (known & ~alone)
    lost = np.bincount(of_lines, left, top).astype(np.float64)
    above = alone | (known & (lost[of_lines] > made[of_lines] + TINY))
    lost_here = np.where(alone, lines["castings"], lost[of_lines])
    share = float(above.mean()) if above.size else 0.0
    if share > TOO_MANY:
        return {}, [
            f"{share:.0%} of the rows do not fit the castings poured, by {', '.join(keys)}: "
            "more is scrapped than poured. They are left out; look whether the dates are those of "
            "pouring."
        ]
    _set_aside(sheets, lines, above, lost_here, made[of_lines], keys)
    return poured, []


def _set_aside(
    sheets: Sequence[tuple[Page, Part]], lines: Arrays, above: NDArray[np.bool_],
    lost: NDArray[np.float64], made: NDArray[np.float64], keys: Sequence[str],
) -> None:  # fmt: skip
    gone = np.zeros(len(above), dtype=bool)
    for number, (_, part) in enumerate(sheets):
        mine = lines["sheet"] == number
        places = lines["place"][mine & above]
        mask = np.zeros(len(part.account.aside), dtype=bool)
        mask[places] = True
        why = {int(p): (float(a), float(b)) for p, a, b in zip(
            places, lost[mine & above], made[mine & above], strict=True)}  # fmt: skip
        part.account.put(mask, lambda n, why=why: (  # type: ignore[misc]
            f"{why[n][0]:g} castings scrapped of {why[n][1]:g} poured, by {', '.join(keys)}"
        ))  # fmt: skip
        gone |= mine & np.isin(lines["place"], np.flatnonzero(mask))
    for name in list(lines):
        lines[name] = lines[name][~gone]
