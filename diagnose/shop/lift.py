"""What liquid iron does to a mould: pressure, lift on cope and cores, load on walls and clamps.

Lifts reckon with the density of cold iron, as the mould-weight rules do (0.26 lb/in3, 0.0072
kg/cm3): liquid iron is some 3 or 4 per cent lighter, so they come out on the safe side.
"""

from __future__ import annotations

import math
from typing import Final

from diagnose.shop.calculation import figure, require
from diagnose.shop.metal import SOLID
from diagnose.shop.physics import GRAVITY
from diagnose.shop.series import Reading, within

CORE_SAND: Final = 1600.0
"""kg/m3 of rammed core sand, as in several published problems (1.6 to 1.68 g/cm3)."""


def ferrostatic_pressure(head: Reading, density: float = SOLID) -> Reading:
    """Return the pressure in kPa under ``head`` mm of iron of ``density`` kg/m3.

    References: Shop Practice, Moulding Work (read): 8 in below the level in iron of 0.26 lb/in3
    is 8 x 0.26 = 2.08 psi = 14.3 kPa.

    >>> round(ferrostatic_pressure(203.2, 7197.0), 1)
    14.3
    """
    within("head", head, "mm")
    within("density", density, "kg/m3", above=True)
    return density * GRAVITY * head / 1e6


def pressure_head(pressure: Reading, density: float = SOLID) -> Reading:
    """Return the head of iron in mm that gives ``pressure`` kPa.

    >>> round(pressure_head(ferrostatic_pressure(150.0)), 9)
    150.0
    """
    within("pressure", pressure, "kPa")
    within("density", density, "kg/m3", above=True)
    return pressure * 1e6 / (density * GRAVITY)


def cope_lift(area: float, head: float, density: float = SOLID, rising: float = 0.0) -> float:
    """Return the lift on the cope in N.

    ``area`` in cm2 is the casting seen from above (never the curved surface), ``head`` in mm the
    height of the pouring level above the cope surface of the mould. Where the casting rises into
    the cope, count the head from the joint and give the volume that rises as ``rising`` cm3: the
    lift is then that of the sand column over it, exact for any shape.

    References: Find the weights..., problem sheet (read): 2250 cm2 under 20 cm of metal of
    0.0771 N/cm3, printed 3469.5 N:

    >>> round(cope_lift(2250.0, 200.0, 77100 / GRAVITY), 1)
    3469.5
    """
    within("area", area, "cm2", above=True)
    within("head", head, "mm")
    within("density", density, "kg/m3", above=True)
    within("rising volume", rising, "cm3")
    column = area * head / 10.0
    require(
        rising <= column,
        f"rising: {figure(rising)} cm3 stands above the pouring level; right would be at most "
        f"{figure(column)} cm3 (area x head).",
    )
    return density * GRAVITY * (column - rising) * 1e-6


def core_lift(
    volume: float,
    metal: float = SOLID,
    core: float = CORE_SAND,
    *,
    gross: bool = False,
    prints: float = 0.0,
) -> float:
    """Return the upward force on a core in N; negative when it would sink.

    ``volume`` cm3 of the core lie in metal, ``prints`` cm3 outside it. Net: metal displaced less
    the weight of the whole core. Gross: metal displaced only, as some handbooks reckon.

    References: Find the weights..., problem sheet (read): 14137.2 cm3, printed 856.7 N net:

    >>> round(core_lift(14137.2, 77100 / GRAVITY, 16500 / GRAVITY), 1)
    856.7
    """
    within("volume", volume, "cm3", above=True)
    within("metal", metal, "kg/m3", above=True)
    within("core", core, "kg/m3", above=True)
    within("prints", prints, "cm3")
    weight = 0.0 if gross else core * (volume + prints)
    return GRAVITY * (metal * volume - weight) * 1e-6


def weight_on_top(
    lift: float, on_cores: float = 0.0, cope: float = 0.0, factor: float = 1.5
) -> float:
    """Return the kg to lay on the cope: ``factor`` x whole lift, less the cope itself; from 0.

    ``lift`` and ``on_cores`` in N, ``cope`` (box and sand) in kg. The factor covers the blow with
    which the metal stops when the mould is full, and clamping losses.

    References: Shop Practice, Moulding Work (read): lift 104.8 lb, "at least 150 pounds" in
    practice, a factor of 1.43; here in kg:

    >>> round(weight_on_top(466.17, factor=1.43), 1)
    68.0
    """
    within("lift", lift, "N")
    within("lift on cores", on_cores, "N")
    within("cope", cope, "kg")
    within("factor", factor, "", 1.0)
    return max(0.0, factor * (lift + on_cores) / GRAVITY - cope)


def clamps(pull: float, load: float, factor: float = 1.5) -> int:
    """Return how many clamps hold ``pull`` N if each may carry ``load`` N; never under two.

    >>> clamps(4000.0, 2500.0)
    3
    """
    within("pull", pull, "N")
    within("load", load, "N", above=True)
    within("factor", factor, "", 1.0)
    return max(2, math.ceil(factor * pull / load - 1e-9))


def wall_pressure(height: Reading, top: Reading, density: float = SOLID) -> Reading:
    """Return the mean pressure in kPa on a wall ``height`` mm high, its top ``top`` mm deep.

    References: Shop Practice, Moulding Work (read): wall 7 in high under 6 in, iron that weighs
    0.2607 lb/in3, printed 2.48 psi = 17.1 kPa:

    >>> round(wall_pressure(177.8, 152.4, 7216.15), 1)
    17.1
    """
    within("height", height, "mm", above=True)
    within("depth of its top", top, "mm")
    return ferrostatic_pressure(top + height / 2.0, density)


def wall_force(width: float, height: float, top: float, density: float = SOLID) -> float:
    """Return the side force in N on an upright wall; measures in mm.

    References: as ``wall_pressure``; one side of 8 x 7 in, printed 138.69 lb = 616.9 N:

    >>> round(wall_force(203.2, 177.8, 152.4, 7216.15), 1)
    616.9
    """
    within("width", width, "mm", above=True)
    return wall_pressure(height, top, density) * width * height / 1000.0


def print_area(lift: float, strength: float, factor: float = 3.0) -> float:
    """Return the area of core print in cm2 that keeps ``lift`` N from crushing the mould.

    ``strength`` is the green compression of the sand in kPa, ``factor`` the margin on it.

    References: load over area (exact); the margin is our own.

    >>> print_area(60.0, 90.0)
    20.0
    """
    within("lift", lift, "N")
    within("strength", strength, "kPa", above=True)
    within("factor", factor, "", 1.0)
    return factor * lift / strength * 10.0
