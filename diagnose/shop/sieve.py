"""Sieve tables: grain fineness number, and how the grain is spread over the sieves."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

PAN: Final = "pan"
_US: Final = {
    "6": (3.35, 3),
    "12": (1.70, 5),
    "20": (0.850, 10),
    "30": (0.600, 20),
    "40": (0.425, 30),
    "50": (0.300, 40),
    "70": (0.212, 50),
    "100": (0.150, 70),
    "140": (0.106, 100),
    "200": (0.075, 140),
    "270": (0.053, 200),
    PAN: (0.0, 300),
}
_METRIC: Final = {
    "1400": (1.400, 6),
    "1000": (1.000, 9),
    "710": (0.710, 15),
    "500": (0.500, 25),
    "355": (0.355, 35),
    "250": (0.250, 45),
    "180": (0.180, 60),
    "125": (0.125, 81),
    "90": (0.090, 118),
    "63": (0.063, 164),
    PAN: (0.0, 275),
}
SERIES: Final[Mapping[str, Mapping[str, tuple[float, int]]]] = {
    "us": _US,
    "iso": {
        PAN if label == PAN else str(round(each[0] * 1000)): each for label, each in _US.items()
    },
    "metric": _METRIC,
}
"""By series and sieve: the opening in mm and the AFS multiplier, coarsest sieve first.

``us`` names a sieve by its number, ``iso`` the same sieves by their opening in micrometres (ISO
3310-1, R 40/3), ``metric`` the R 20/3 sieves of European shops. The multipliers of the first two
were read in two places; those of ``metric`` are from memory.
"""

LOST_AT_MOST: Final = 2.0
"""Per cent by which a sieve table may miss the sample before it is refused: our own limit."""

LOST_UNNOTICED: Final = 0.5
"""Per cent by which it may miss the sample without a word: our own limit."""

_GFN_SOURCE = (
    "AFS grain fineness number: sum of (amount x multiplier) over what was sieved. Multipliers "
    "as in GB/T 9442 (read in a summary) and on a sand supplier's page (read)."
)
MEMORY_SERIES = "the multipliers of the metric (R 20/3) series are from memory"


def amounts_by_sieve(retained: Mapping[str, float], series: str) -> dict[str, float]:
    """Return what each sieve of the series held, coarsest first; raise OutOfRange for nonsense.

    >>> list(amounts_by_sieve({"pan": 1, "70": 42.0, "US 50": 8}, "us"))
    Traceback (most recent call last):
    diagnose.shop.calculation.OutOfRange: sieve US 50 is not of the us series; it has 6, 12, \
20, 30, 40, 50, 70, 100, 140, 200, 270, pan.
    """
    if series not in SERIES:
        raise OutOfRange(f"series {series!r} is not known; right would be {', '.join(SERIES)}.")
    known = SERIES[series]
    problems = [
        f"sieve {label} is not of the {series} series; it has {', '.join(known)}."
        for label in retained
        if label not in known
    ]
    problems += [
        f"sieve {label}: {amount:g} cannot be; right would be 0 or more."
        for label, amount in retained.items()
        if not (math.isfinite(amount) and amount >= 0)
    ]
    if not problems and sum(retained.values()) <= 0:
        problems.append("the sieves held nothing; weigh what each of them kept.")
    if problems:
        raise OutOfRange(*problems)
    return {label: float(retained[label]) for label in known if label in retained}


def grain_fineness(retained: Mapping[str, float], series: str = "us") -> float:
    """Return the AFS grain fineness number of what each sieve kept, in grams or per cent.

    The divisor is what was sieved, not 100: clay that was washed out does not count. Amounts are
    from 0; raises OutOfRange for an unknown sieve, a negative amount or an empty table.

    References: US FHWA, Report on Use of Recycled Foundry Sand in the Cleveland Area, 2003 (read)
    gives AFS 52 for this sand:

    >>> sand = {"20": 0.1, "30": 1.5, "40": 8.1, "50": 21.4, "70": 42.0, "100": 23.4,
    ...         "140": 3.4, "200": 0.1}
    >>> round(grain_fineness(sand), 2)
    52.22
    """
    amounts = amounts_by_sieve(retained, series)
    products = sum(amount * SERIES[series][label][1] for label, amount in amounts.items())
    return products / sum(amounts.values())


def grain_fineness_of_samples(
    amounts: NDArray[np.float64], sieves: list[str], series: str = "us"
) -> NDArray[np.float64]:
    """Return the fineness of many samples at once: ``amounts`` has one sample a row.

    ``sieves`` names the columns. Errors as in ``grain_fineness``.
    """
    import numpy as np

    tables = np.atleast_2d(amounts)
    for row in tables:
        amounts_by_sieve(dict(zip(sieves, row.tolist(), strict=True)), series)
    multipliers = np.array([SERIES[series][label][1] for label in sieves], dtype=np.float64)
    fineness: NDArray[np.float64] = tables @ multipliers / tables.sum(axis=1)
    return fineness


def shares(retained: Mapping[str, float], series: str = "us") -> dict[str, float]:
    """Return the per cent of the sieved grain on each sieve, coarsest first."""
    amounts = amounts_by_sieve(retained, series)
    whole = sum(amounts.values())
    return {label: amount / whole * 100 for label, amount in amounts.items()}


def major_sieves(
    retained: Mapping[str, float], series: str = "us", least: float = 10.0
) -> tuple[str, ...]:
    """Return the sieves that hold at least ``least`` per cent of the grain; the pan is no sieve.

    References: Sand SQC cuts foundry defects (trade article, read).

    >>> major_sieves({"40": 8.1, "50": 21.4, "70": 42.0, "100": 23.4, "140": 5.1})
    ('50', '70', '100')
    """
    held = shares(retained, series)
    return tuple(label for label, share in held.items() if label != PAN and share >= least)


def _checked_whole(retained: Mapping[str, float], sample: float, clay: float) -> tuple[str, ...]:
    """Return warnings when table and clay miss the sample a little; refuse when they miss it."""
    found = sum(retained.values()) + clay
    lost = (sample - found) / sample * 100
    if abs(lost) > LOST_AT_MOST:
        raise OutOfRange(
            f"sieves and clay add up to {figure(found)}, the sample was {figure(sample)}: "
            f"{'less' if lost > 0 else 'more'} by {figure(abs(lost))} %. Give the sample in the "
            f"unit of the table (100 for per cent), the clay washed out, and every sieve; "
            f"right would be within {figure(LOST_AT_MOST)} %."
        )
    if abs(lost) > LOST_UNNOTICED:
        return (f"sieves and clay miss the sample by {figure(abs(lost))} %: weigh again",)
    return ()


def _cautions(retained: Mapping[str, float], series: str) -> tuple[str, ...]:
    fineness = grain_fineness(retained, series)
    words = [MEMORY_SERIES] if series == "metric" else []
    gaps = _gaps(retained, series)
    if gaps:
        words.append(
            f"nothing said of {', '.join(gaps)}: taken as empty; were they not in the stack, the "
            "number comes out too high"
        )
    if not 40 <= fineness <= 220:
        words.append("moulding sands usually lie at 40 to 220 (read in a summary)")
    words.append(
        "two quite different sands can share one number: look at the spread over sieves too"
    )
    return tuple(words)


def _gaps(retained: Mapping[str, float], series: str) -> list[str]:
    known = list(SERIES[series])
    listed = [place for place, label in enumerate(known) if label in retained]
    return [label for label in known[listed[0] : listed[-1]] if label not in retained]


def _work_fineness(
    retained: Mapping[str, float], sample: float, clay: float, series: str
) -> Worked:
    amounts = amounts_by_sieve(retained, series)
    lost = _checked_whole(retained, sample, clay)
    value = grain_fineness(retained, series)
    rows = [
        f"{label}: {figure(amount)} x {SERIES[series][label][1]}"
        f" = {figure(amount * SERIES[series][label][1])}"
        for label, amount in amounts.items()
    ]
    whole = sum(amounts.values())
    working = (
        "fineness = sum of (amount on each sieve x multiplier) / all that was sieved",
        *rows,
        f"= {figure(value * whole)} / {figure(whole)}",
        f"= {figure(value)}",
    )
    return Worked(value, "GFN", working, _GFN_SOURCE, (*lost, *_cautions(retained, series)))


def _work_spread(retained: Mapping[str, float], least: float, series: str) -> Worked:
    held = shares(retained, series)
    major = major_sieves(retained, series, least)
    known = [label for label in SERIES[series] if label != PAN]
    places = [known.index(label) for label in major]
    warnings = []
    if places and places[-1] - places[0] != len(places) - 1:
        warnings.append("the main sieves do not lie side by side: two sands mixed, or a misreading")
    if len(major) < 3:
        warnings.append(
            "grain on fewer than three sieves packs and expands together: expansion faults are "
            "likelier (common practice, no source)"
        )
    working = (
        f"count the sieves with at least {figure(least)} % of the grain",
        ", ".join(f"{label}: {figure(share)} %" for label, share in held.items()),
        f"= {len(major)} sieves ({', '.join(major) or 'none'})",
    )
    return Worked(len(major), "sieves", working, _SPREAD.source, tuple(warnings))


RETAINED = Input("retained", "what each sieve kept, sieve by sieve", "g or %", 0, 1000, table=True)
WHICH = Input("series", "which sieves they are", "", choices=tuple(SERIES), default="us")
_FINENESS = Calculation(
    "grain-fineness",
    "Grain fineness number",
    (
        RETAINED,
        Input("sample", "the whole sample, clay included (100 for %)", "g or %", 1, 1000, 100),
        Input("clay", "clay washed out before sieving", "g or %", 0, 900, 0),
        WHICH,
    ),
    "GFN",
    _GFN_SOURCE,
    _work_fineness,
)
_SPREAD = Calculation(
    "sieve-spread",
    "Number of sieves that carry the grain",
    (
        RETAINED,
        Input("least", "share that makes a sieve count", "%", 1, 50, 10),
        WHICH,
    ),
    "sieves",
    "Rule of 10 % a sieve: Sand SQC cuts foundry defects, trade article (read).",
    _work_spread,
)
CALCULATIONS = (_FINENESS, _SPREAD)
