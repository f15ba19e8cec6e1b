"""Gas from cores and damp sand, and what vents and sand let through.

Orders of magnitude: binder, heating and how much sand gets hot are never known well.
"""

from __future__ import annotations

import math
from typing import Final

from diagnose.shop.physics import ATMOSPHERE, GAS_CONSTANT, GRAVITY, ICE_POINT, MOLAR_VOLUME
from diagnose.shop.series import Reading, within

BINDER_LOST: Final = 0.82
BINDER_GAS: Final = 33.3
"""Share of a phenolic-urethane binder that turns to gas, and g/mol of that gas at 898 degC.
Paper on gas from phenolic-urethane sand, International Journal of Metalcasting, 2012 (read)."""

BINDER_YIELD: Final = BINDER_LOST / BINDER_GAS * MOLAR_VOLUME
"""cm3 of gas at 0 degC and one atmosphere from a gram of that binder."""

WATER_MOLE: Final = 18.015
"""g/mol of water."""

_ENTRY_AND_EXIT: Final = 1.5
"""Velocity heads lost where gas enters and leaves a hole; handbook value, from memory."""


def binder_gas(core: Reading, binder: Reading, gas_yield: float = BINDER_YIELD) -> Reading:
    """Return the gas in litres at 0 degC that ``core`` kg of core with ``binder`` % can give.

    ``gas_yield`` is cm3 at 0 degC and one atmosphere a gram of binder.

    References: derived from that paper (read): 1 % gives 5.5 cm3 a gram of core.

    >>> round(binder_gas(1.0, 1.0), 1)
    5.5
    """
    within("core", core, "kg")
    within("binder", binder, "%", 0.0, 100.0)
    within("gas yield", gas_yield, "cm3/g", above=True)
    return core * binder / 100.0 * gas_yield


def steam(sand: Reading, moisture: Reading) -> Reading:
    """Return the steam in litres, reckoned at 0 degC, from ``sand`` kg at ``moisture`` %.

    >>> round(steam(1.0, 3.0), 1)
    37.3
    """
    within("sand", sand, "kg")
    within("moisture", moisture, "%", 0.0, 100.0)
    return sand * moisture / 100.0 / WATER_MOLE * MOLAR_VOLUME


def hot_volume(volume: Reading, temperature: float) -> Reading:
    """Return the volume a gas of 0 degC takes at ``temperature`` degC, same pressure.

    >>> round(hot_volume(1.0, 819.45), 9)
    4.0
    """
    within("volume", volume, "l")
    within("temperature", temperature, "degC", -ICE_POINT, above=True)
    return volume * (temperature + ICE_POINT) / ICE_POINT


def gas_viscosity(temperature: float) -> float:
    """Return the viscosity of the gas in Pa s, taken as air, by Sutherland's law.

    References: constants of Sutherland's law for air (1.716e-5 Pa s, 110.4 K): from memory.

    >>> round(gas_viscosity(20.0) * 1e6, 1)
    18.1
    """
    within("temperature", temperature, "degC", -ICE_POINT, above=True)
    kelvin = temperature + ICE_POINT
    warmer = kelvin / ICE_POINT
    return 1.716e-5 * warmer * math.sqrt(warmer) * (ICE_POINT + 110.4) / (kelvin + 110.4)


def gas_density(temperature: float, mole: float = BINDER_GAS) -> float:
    """Return the density of the gas in kg/m3 at one atmosphere.

    >>> round(gas_density(0.0, 28.97), 3)
    1.292
    """
    within("temperature", temperature, "degC", -ICE_POINT, above=True)
    within("molar mass", mole, "g/mol", above=True)
    return ATMOSPHERE * mole / (GAS_CONSTANT * (temperature + ICE_POINT))


def vent_flow(diameter: float, length: float, pressure: float, temperature: float) -> float:
    """Return the gas in l/s, hot, that one round vent passes at ``pressure`` kPa.

    Measures in mm. The pressure is spent on wall friction (laminar) and on getting in and out;
    a rough or turbulent vent passes less.

    References: Poiseuille's law and the velocity head (textbook physics).

    >>> round(vent_flow(6.0, 200.0, 1.0, 600.0), 2)
    1.26
    """
    within("diameter", diameter, "mm", above=True)
    within("length", length, "mm")
    within("pressure", pressure, "kPa")
    bore, run = diameter / 1000.0, length / 1000.0
    area = math.pi / 4 * bore**2
    friction = 128.0 * gas_viscosity(temperature) * run / (math.pi * bore**4)
    heads = _ENTRY_AND_EXIT * gas_density(temperature) / (2.0 * area**2)
    flow = (math.sqrt(friction**2 + 4 * heads * pressure * 1000.0) - friction) / (2 * heads)
    return flow * 1000.0


def reynolds(flow: float, diameter: float, temperature: float) -> float:
    """Return the Reynolds number of ``flow`` l/s in a vent of ``diameter`` mm."""
    within("flow", flow, "l/s")
    within("diameter", diameter, "mm", above=True)
    speed = flow / 1000.0 / (math.pi / 4 * (diameter / 1000.0) ** 2)
    return gas_density(temperature) * speed * diameter / 1000.0 / gas_viscosity(temperature)


def sand_back_pressure(
    flow: Reading, length: float, area: float, permeability: float, temperature: float
) -> Reading:
    """Return the pressure in kPa that pushes ``flow`` l/s of hot gas through rammed sand.

    ``length`` of the way in mm, ``area`` in cm2, ``permeability`` as a permeability number. By
    its definition the number is cm3 a minute through 1 cm2 at 1 g/cm2 a cm of way, cold; hot gas
    is thicker, in proportion to its viscosity.

    >>> round(sand_back_pressure(2.0 / 60, 50.8, 20.2683, 50.1275, 20.0), 4)
    0.9807
    """
    within("flow", flow, "l/s")
    within("length", length, "mm", above=True)
    within("area", area, "cm2", above=True)
    within("permeability", permeability, "AFS", above=True)
    thicker = gas_viscosity(temperature) / gas_viscosity(20.0)
    in_grams = flow * 60000.0 * (length / 10.0) / (permeability * area)
    return in_grams * GRAVITY / 100.0 * thicker


def strip_time(minutes: float, known: float, temperature: float) -> float:
    """Return the strip time in minutes at ``temperature`` degC, given it at ``known`` degC.

    It doubles for every 15 degF the sand is colder, which is 8.33 K (the paper prints 9.4).

    References: Paper on no-bake strip time, AFS Transactions, 2007 (read).

    >>> round(strip_time(20.0, 25.0, 25.0 - 15 / 1.8), 6)
    40.0
    """
    within("time", minutes, "min", above=True)
    within("known temperature", known, "degC", -40.0, 60.0)
    within("temperature", temperature, "degC", -40.0, 60.0)
    return float(minutes * 2.0 ** ((known - temperature) * 1.8 / 15.0))
