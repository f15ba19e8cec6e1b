"""Hot return sand: how hot is too hot, and what water takes out of it."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, require, steps
from diagnose.shop.series import Reading, within

HOT: Final = 49.0
"""degC (120 degF) from which sand counts as hot."""

UNMANAGEABLE: Final = 71.0
"""degC (160 degF) above which mulling gives no consistent sand."""

SAND_HEAT: Final = 0.2
WATER_HEAT: Final = 1.0
STEAM_HEAT: Final = 540.0
"""Heat of sand and of water, kcal/(kg K), and of turning water to steam, kcal/kg."""

BOILING: Final = 100.0

_HOT_SOURCE = (
    "120 and 160 degF: Reduction in Sand-Related Scrap Through Effective Sand Cooling, and Solving "
    "Hot-Sand Problems, trade articles (both read)."
)
_HEAT_SOURCE = (
    "Heat balance and figures (0.2, 1.0, 540 kcal) of Effectively cooling molding sands, trade "
    "article (read)."
)
_SAFETY = (
    "no water on sand that still holds red-hot or liquid iron: steam throws it; stand clear of "
    "the steam"
)


def heat_of_evaporation(water: Reading) -> Reading:
    """Return the kcal one kg of water at ``water`` degC takes up until it has gone as steam.

    >>> round(heat_of_evaporation(21.0), 1)
    619.0
    """
    within("water temperature", water, "degC", 0.0, BOILING)
    return WATER_HEAT * (BOILING - water) + STEAM_HEAT


def cooling_water(sand: float, hot: float, cooled: float, water: float = 20.0) -> float:
    """Return the water in kg that, all evaporated, cools ``sand`` kg from ``hot`` to ``cooled``.

    Temperatures in degC. Heat carried off by air is left out, so this is at the upper end.

    References: Effectively cooling molding sands (read): 2000 lb from 302 to 212 degF with water
    at 70 degF, printed as 14.6 kg (32.2 lb):

    >>> round(cooling_water(907.18474, 150.0, 100.0, 21.0), 2)
    14.66
    """
    within("sand", sand, "kg", above=True)
    require(
        cooled <= hot,
        f"cooled: {figure(cooled)} degC is hotter than the sand at {figure(hot)} degC; right "
        "would be a temperature below it.",
    )
    return sand * SAND_HEAT * (hot - cooled) / heat_of_evaporation(water)


def cooling_by(evaporated: Reading, water: float = 20.0) -> Reading:
    """Return the kelvin a sand cools when ``evaporated`` per cent of its mass leaves as steam.

    References: the same balance.

    >>> round(cooling_by(1.0), 1)
    31.0
    """
    within("evaporated", evaporated, "%", 0.0, 100.0)
    return evaporated / 100.0 * heat_of_evaporation(water) / SAND_HEAT


def _work_margin(temperature: float) -> Worked:
    value = HOT - temperature
    if value >= 0:
        verdict: tuple[str, ...] = ()
    elif temperature <= UNMANAGEABLE:
        verdict = ("hot: mulls unevenly, dries on the way, sweats on cold patterns and cores",)
    else:
        verdict = ("too hot: cannot be mulled to anything consistent; cool it first", _SAFETY)
    numbers = f"{figure(HOT)} - {figure(temperature)}"
    working = (
        *steps("margin = limit - sand temperature", numbers, value, "K"),
        f"hot from {figure(HOT)} degC (120 degF), hopeless above {figure(UNMANAGEABLE)} degC "
        "(160 degF)",
    )
    return Worked(value, "K", working, _HOT_SOURCE, verdict)


def _work_cooling(sand: float, hot: float, cooled: float, water: float) -> Worked:
    value = cooling_water(sand, hot, cooled, water)
    formula = "water = sand x 0.2 x (hot - cooled) / (100 - water temperature + 540)"
    numbers = (
        f"{figure(sand)} x 0.2 x ({figure(hot)} - {figure(cooled)}) / (100 - {figure(water)} + 540)"
    )
    warnings = [_SAFETY, "this water leaves as steam: it does not count towards the moisture"]
    if cooled < 60:
        warnings.append("below about 60 degC water leaves slowly: air must carry it off")
    return Worked(value, "kg", steps(formula, numbers, value, "kg"), _HEAT_SOURCE, tuple(warnings))


def _work_cooled_by(evaporated: float, water: float) -> Worked:
    value = cooling_by(evaporated, water)
    formula = "cooling = evaporated / 100 x (100 - water temperature + 540) / 0.2"
    numbers = f"{figure(evaporated)} / 100 x (100 - {figure(water)} + 540) / 0.2"
    warning = "at most: some of the heat comes from the air and the plant"
    return Worked(value, "K", steps(formula, numbers, value, "K"), _HEAT_SOURCE, (warning,))


_WATER = Input("water", "temperature of the water", "degC", 0, 99, default=20)
_MARGIN = Calculation(
    "hot-sand-margin",
    "How far the sand lies under the hot-sand limit",
    (Input("temperature", "temperature of the sand at the mill", "degC", -20, 400),),
    "K",
    _HOT_SOURCE,
    _work_margin,
)
_COOLING = Calculation(
    "cooling-water",
    "Water that cools hot sand by evaporating",
    (
        Input("sand", "hot sand", "kg", 1, 1000000),
        Input("hot", "its temperature", "degC", 30, 400),
        Input("cooled", "temperature wanted", "degC", 20, 400),
        _WATER,
    ),
    "kg",
    _HEAT_SOURCE,
    _work_cooling,
)
_COOLED_BY = Calculation(
    "cooling-by-evaporation",
    "Cooling that evaporated water brings",
    (Input("evaporated", "water that left, in per cent of the sand", "%", 0, 10), _WATER),
    "K",
    _HEAT_SOURCE,
    _work_cooled_by,
)
CALCULATIONS = (_MARGIN, _COOLING, _COOLED_BY)
