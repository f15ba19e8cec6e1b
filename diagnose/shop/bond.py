"""Bond equations: what clay the sand has to offer, what it uses, what water it calls for.

All of them come from ICRI Report 610 (12 Mar 2003), page 16, which quotes a Penn State report;
read. They were fitted in psi and hold for 7 to 11 % live clay.
"""

from __future__ import annotations

import math
from typing import Final

from diagnose.shop.calculation import require
from diagnose.shop.series import Reading, within

JOIN: Final = 47.5
"""Compactability in % at which the equilibrium line bends."""

_LOW: Final = (2.583, 0.01185)
_HIGH: Final = (3.213, 0.02525)


def available_bond(strength: Reading, moisture: Reading) -> Reading:
    """Return the clay in % that could bond: 0.105 x strength + 1.316 x moisture.

    ``strength`` is the green compression in psi, ``moisture`` in %; both from 0.

    >>> round(available_bond(26.0, 3.2), 3)
    6.941
    """
    within("green compression", strength, "psi")
    within("moisture", moisture, "%", 0.0, 100.0)
    return 0.105 * strength + 1.316 * moisture


def working_bond(strength: Reading, compactability: Reading) -> Reading:
    """Return the clay in % that does bond: 15.29 x strength / (132.1 - compactability).

    ``strength`` in psi, ``compactability`` in %, below 100.

    >>> round(working_bond(26.0, 40.0), 3)
    4.316
    """
    within("green compression", strength, "psi")
    within("compactability", compactability, "%", 0.0, 100.0)
    return 15.29 * strength / (132.1 - compactability)


def moisture_strength_clay(strength: float, moisture: float) -> float:
    """Return the available clay in % by the extended equation (coal and good mulling included).

    ``strength`` in psi, ``moisture`` in %, both above 0; raises OutOfRange where the equation
    has its pole.

    >>> round(moisture_strength_clay(26.0, 3.2), 3)
    5.858
    """
    within("green compression", strength, "psi", above=True)
    within("moisture", moisture, "%", 0.0, 100.0, above=True)
    divisor = 2.5887 - 1.155 * math.log10(moisture) - 0.5635 * math.log10(strength)
    require(
        divisor > 0.6,
        f"{moisture:g} % moisture with {strength:g} psi lies beyond the equation; right would be "
        "a green sand of 2 to 6 % and 10 to 40 psi.",
    )
    return float(4.52 * 10 ** (1 / divisor) + 4.74) / 6.0


def compacted_strength_clay(strength: Reading, compactability: Reading) -> Reading:
    """Return the effective clay in % by the extended equation.

    ``strength`` in psi, ``compactability`` in %. The report prints a factor of 100 behind it,
    which would make clay of 437 %: a misprint, left out here.

    >>> round(compacted_strength_clay(26.0, 40.0), 3)
    4.369
    """
    within("green compression", strength, "psi")
    within("compactability", compactability, "%", 0.0, 100.0)
    return (strength + 9.56 - 0.0971 * compactability) / (11.25 - 0.1 * compactability)


def clay_to_water(compactability: float) -> float:
    """Return live clay over water in a fully mulled sand of this compactability (%).

    Two lines meet at 47.5 %, within 0.3 %; the lower one serves there.

    >>> round(clay_to_water(47.5), 4), round(clay_to_water(47.5001), 4)
    (2.0201, 2.0136)
    """
    within("compactability", compactability, "%", 0.0, 100.0)
    start, slope = _LOW if compactability <= JOIN else _HIGH
    return start - slope * compactability


def equilibrium_moisture(clay: Reading, compactability: float) -> Reading:
    """Return the moisture in % of a fully mulled sand with this live clay and compactability.

    >>> round(equilibrium_moisture(8.0, 40.0), 3)
    3.793
    """
    within("live clay", clay, "%", 0.0, 100.0)
    return clay / clay_to_water(compactability)


def equilibrium_compactability(clay: float, moisture: float) -> float:
    """Return the compactability in % a fully mulled sand would reach: the inverse of the above.

    Where the two lines do not quite meet, the answer is the bend itself. Raises OutOfRange for
    a sand that lies off both lines.

    >>> round(equilibrium_compactability(8.0, equilibrium_moisture(8.0, 52.0)), 9)
    52.0
    """
    within("live clay", clay, "%", 0.0, 100.0, above=True)
    within("moisture", moisture, "%", 0.0, 100.0, above=True)
    ratio = clay / moisture
    low, high = ((start - ratio) / slope for start, slope in (_LOW, _HIGH))
    value = low if low <= JOIN else max(high, JOIN)
    require(
        0 <= value <= 100,
        f"{clay:g} % live clay on {moisture:g} % moisture lies off the lines; right would be "
        "about one part of water to two parts of live clay.",
    )
    return value


def muller_efficiency(working: Reading, available: Reading) -> Reading:
    """Return working bond in % of available bond.

    >>> round(muller_efficiency(4.316, 6.941), 1)
    62.2
    """
    within("working bond", working, "%")
    within("available bond", available, "%", above=True)
    return working / available * 100.0


def mulling_index(strength: Reading, compactability: Reading, moisture: Reading) -> Reading:
    """Return strength x compactability / moisture, which grows as the sand is mulled.

    References: TJFS-108, mulling efficiency (read): the shop's sand over the same sand mulled out.
    """
    within("strength", strength, "kPa")
    within("compactability", compactability, "%", 0.0, 100.0)
    within("moisture", moisture, "%", 0.0, 100.0, above=True)
    return strength * compactability / moisture
