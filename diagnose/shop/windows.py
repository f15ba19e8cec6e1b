"""Windows of sand readings by way of moulding: how far a reading lies outside.

The windows by way of moulding are from memory and are said to be so: a shop's own limits, found
on its own castings, go before them.
"""

from __future__ import annotations

import math
from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, require, steps
from diagnose.shop.series import Reading, within

WAYS: Final = ("hand", "machine", "high-pressure")
"""Ways of moulding: rammed by hand; jolt or squeeze machine; high-pressure squeeze."""

STRENGTH: Final = {"hand": (40.0, 80.0), "machine": (70.0, 120.0), "high-pressure": (140.0, 220.0)}
"""Green compression strength in kPa, grey iron; from memory. The book's windows are the same."""

HARDNESS: Final = {"hand": (65.0, 85.0), "machine": (70.0, 88.0), "high-pressure": (85.0, 95.0)}
"""Mould hardness on the B scale; from memory. The book's windows are the same."""

COMPACTABILITY: Final = (35.0, 50.0)
"""Per cent; testing-machine maker's article on compactability (read)."""

_OWN_LIMITS = "from memory and wide: set your own limits from castings that came out well"


def outside(reading: float, window: tuple[float, float]) -> float:
    """Return by how much a reading misses its window: below is negative, inside is 0.

    >>> outside(60.0, (70.0, 100.0)), outside(80.0, (70.0, 100.0)), outside(104.0, (70.0, 100.0))
    (-10.0, 0.0, 4.0)
    """
    low, high = window
    within("reading", reading, "", -math.inf)
    require(low <= high, f"window: {low:g} to {high:g} is upside down; right would be low to high.")
    return min(reading - low, 0.0) + max(reading - high, 0.0)


def share_inside(readings: Reading, window: tuple[float, float]) -> float:
    """Return the share, 0 to 1, of readings inside a window.

    >>> share_inside(80.0, (70.0, 100.0))
    1.0
    """
    import numpy as np

    low, high = window
    within("reading", readings, "", -math.inf)
    every = np.atleast_1d(np.asarray(readings))
    return float(np.mean((every >= low) & (every <= high)))


def _verdict(
    what: str, reading: float, unit: str, window: tuple[float, float], source: str
) -> tuple[float, tuple[str, ...]]:
    value = outside(reading, window)
    low, high = window
    line = f"{what}: window {figure(low)} to {figure(high)} {unit} ({source})"
    if value == 0:
        numbers = f"{figure(reading)} {unit} lies inside"
    else:
        numbers = f"{figure(reading)} - {figure(high if value > 0 else low)}"
    return value, steps(line, numbers, value, unit)


def _work_strength(strength: float, way: str) -> Worked:
    window = STRENGTH[way]
    value, working = _verdict(f"{way} moulding", strength, "kPa", window, "from memory")
    warnings = [_OWN_LIMITS]
    if value < 0:
        warnings.append("weak sand: drops, washes, broken edges, swells")
    if value > 0:
        warnings.append("strong for this way of moulding: hard to ram evenly, slow to knock out")
    if not 30 <= strength <= 160:
        warnings.append("30 to 160 kPa is the range of green sands at large (MEM564 sheet, read)")
    return Worked(value, "kPa", working, _STRENGTH.source, tuple(warnings))


def _work_hardness(hardness: float, way: str) -> Worked:
    window = HARDNESS[way]
    value, working = _verdict(f"{way} moulding", hardness, "B", window, "B scale, from memory")
    warnings = [
        _OWN_LIMITS,
        "a hardness number means nothing without its scale: makers' scales differ",
    ]
    if value < 0:
        warnings.append("soft spots give swells, penetration and rough skin (read)")
    if value > 0:
        warnings.append("hard spots give scabs, and hold back gas (read)")
    return Worked(value, "B", working, _HARDNESS.source, tuple(warnings))


def _work_compactability(compactability: float) -> Worked:
    value, working = _verdict("green sand", compactability, "%", COMPACTABILITY, "read")
    warnings = []
    if value < 0:
        warnings.append("too dry: friable edges, broken pockets, crush, penetration (read)")
    if value > 0:
        warnings.append("too wet: rough skin, expansion faults, pinholes, blows, swells (read)")
    return Worked(value, "%", working, _COMPACTABILITY.source, tuple(warnings))


_WAY = Input("way", "way of moulding", "", choices=WAYS)
_STRENGTH = Calculation(
    "strength-window",
    "Green compression strength against its window",
    (Input("strength", "green compression strength", "kPa", 1, 500), _WAY),
    "kPa",
    "Windows by way of moulding: from memory. Range at large: MEM564 sheet, 2014 (read).",
    _work_strength,
)
_HARDNESS = Calculation(
    "hardness-window",
    "Mould hardness against its window",
    (Input("hardness", "mould hardness, B scale", "B", 0, 100, reading="mould hardness"), _WAY),
    "B",
    "Bands of the B scale by way of moulding: from memory.",
    _work_hardness,
)
_COMPACTABILITY = Calculation(
    "compactability-window",
    "Compactability against its window",
    (Input("compactability", "compactability", "%", 0, 100, reading="compactability of the sand"),),
    "%",
    "35 to 50 %: testing-machine maker's article on compactability (read).",
    _work_compactability,
)
CALCULATIONS = (_STRENGTH, _HARDNESS, _COMPACTABILITY)
