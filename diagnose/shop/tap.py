"""The tap from the mould backwards: how hot to tap, and how long the iron may wait."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure
from diagnose.shop.ladle_heat import COVER, LADLE_SOURCE, LINING, temperature_after

MOST: Final = 60.0
"""Minutes that iron stands in a ladle at most."""

_HALVINGS: Final = 60


def tap_for(mould: float, metal: float, minutes: float, lining: float, cover: str) -> float:
    """Return the temperature in degC to tap at, so that ``mould`` degC is left after ``minutes``.

    Found by halving; the ladle is that of ``ladle_heat.temperature_after``.

    >>> round(temperature_after(tap_for(1380, 100, 3, 900, "bare"), 3, 100))
    1380
    """
    low, high = max(mould, lining), 1700.0
    if temperature_after(high, minutes, metal, lining, cover) < mould:
        raise OutOfRange(
            f"minutes: after {figure(minutes)} min no iron is left at {figure(mould)} degC in a "
            f"ladle of {figure(metal)} kg; right would be a shorter wait or a larger ladle."
        )
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if temperature_after(middle, minutes, metal, lining, cover) < mould:
            low = middle
        else:
            high = middle
    return high


def wait_for(tapped: float, mould: float, metal: float, lining: float, cover: str) -> float:
    """Return the minutes that iron tapped at ``tapped`` may wait until it stands at ``mould``.

    >>> round(temperature_after(1410, wait_for(1410, 1380, 100, 900, "bare"), 100))
    1380
    """
    if tapped <= mould:
        raise OutOfRange(
            f"tapped: {figure(tapped)} degC is no hotter than the {figure(mould)} degC wanted at "
            "the mould; tap hotter first."
        )
    short, long = 0.0, MOST
    if temperature_after(tapped, long, metal, lining, cover) > mould:
        return MOST
    for _ in range(_HALVINGS):
        middle = (short + long) / 2
        if temperature_after(tapped, middle, metal, lining, cover) > mould:
            short = middle
        else:
            long = middle
    return short


def _work_tap(mould: float, metal: float, minutes: float, lining: float, cover: str) -> Worked:
    value = tap_for(mould, metal, minutes, lining, cover)
    working = (
        "tap = at the mould + loss in the ladle",
        f"= {figure(mould)} + {figure(value - mould)} K ({figure(metal)} kg, {figure(minutes)} min,"
        f" {cover})",
        f"= {figure(value)} degC",
    )
    return Worked(value, "degC", working, LADLE_SOURCE, ("constants from memory",))


def _work_wait(tapped: float, mould: float, metal: float, lining: float, cover: str) -> Worked:
    value = wait_for(tapped, mould, metal, lining, cover)
    working = (
        "wait until the loss in the ladle has eaten what is over",
        f"= {figure(tapped)} - {figure(mould)} = {figure(tapped - mould)} K ({figure(metal)} kg, "
        f"{cover})",
        f"= {figure(value)} min",
    )
    return Worked(value, "min", working, LADLE_SOURCE, ("constants from memory",))


_MOULD = Input("mould", "temperature wanted at the mould", "degC", 1150, 1600)
_METAL = Input("metal", "iron in the ladle", "kg", 2, 10000, default=100)
CALCULATIONS = (
    Calculation(
        "tap-for-mould",
        "Temperature to tap at for the heat wanted at the mould",
        (
            _MOULD,
            _METAL,
            Input("minutes", "time in the ladle", "min", 0, MOST),
            LINING,
            COVER,
        ),
        "degC",
        LADLE_SOURCE,
        _work_tap,
    ),
    Calculation(
        "wait-in-ladle",
        "Longest wait in the ladle for the heat wanted at the mould",
        (
            Input("tapped", "temperature at the tap", "degC", 1200, 1650),
            _MOULD,
            _METAL,
            LINING,
            COVER,
        ),
        "min",
        LADLE_SOURCE,
        _work_wait,
    ),
)
