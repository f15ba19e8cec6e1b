"""Sums on cores: the gas they give, what their vents pass, the iron that holds the gas back."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.gas import (
    BINDER_YIELD,
    binder_gas,
    hot_volume,
    reynolds,
    sand_back_pressure,
    steam,
    strip_time,
    vent_flow,
)
from diagnose.shop.lift import ferrostatic_pressure
from diagnose.shop.metal import LIQUID

_ROUGH = "an order of magnitude, no more: how much binder burns, and how fast, is not known well"
_FUME = (
    "core gas is poisonous (carbon monoxide) and burns: ventilate, keep faces clear of the vents"
)
_BINDER = "Gas from phenolic-urethane sand, International Journal of Metalcasting, 2012 (read)"
_FLOW = "Poiseuille's law and the velocity head (textbook physics); gas taken as air, from memory"

ROOM: Final = 25.0
"""Mean load of the vents in % that leaves room for the peak of the gas; a judgement."""


def _work_gas(core: float, binder: float, gas_yield: float, temperature: float) -> Worked:
    value = binder_gas(core, binder, gas_yield)
    numbers = f"{figure(core)} x {figure(binder)} / 100 x {figure(gas_yield)}"
    working = (
        *steps("gas = core x binder / 100 x gas a gram of binder", numbers, value, "l at 0 degC"),
        f"= {figure(hot_volume(value, temperature))} l at {figure(temperature)} degC",
    )
    return Worked(value, "l", working, _GAS.source, (_ROUGH, _FUME))


def _work_steam(sand: float, moisture: float) -> Worked:
    value = steam(sand, moisture)
    numbers = f"{figure(sand)} x {figure(moisture)} / 100 / 18.015 x 22414"
    working = (
        *steps("steam = sand x moisture / 100 / 18.015 x 22414", numbers, value, "l at 0 degC"),
        f"= {figure(hot_volume(value, 100.0))} l at 100 degC",
    )
    warnings = (
        "so much if all the water boils: near the iron it does, at once",
        "damp cores and wet patches throw iron out of the mould: dry cores, chaplets and ladles",
    )
    return Worked(value, "l", working, _STEAM.source, warnings)


def _work_vent(diameter: float, length: float, pressure: float, temperature: float) -> Worked:
    value = vent_flow(diameter, length, pressure, temperature)
    number = reynolds(value, diameter, temperature)
    working = (
        "pressure = friction on the wall + 1.5 velocity heads; solved for the flow",
        f"= {figure(diameter)} mm bore, {figure(length)} mm long, {figure(pressure)} kPa, "
        f"{figure(temperature)} degC",
        f"= {figure(value)} l/s of hot gas (Reynolds number {figure(number)})",
    )
    warnings = [_ROUGH]
    if number > 2300:
        warnings.append("the gas swirls in this vent: it passes less than this")
    return Worked(value, "l/s", working, _VENT.source, tuple(warnings))


def _work_venting(
    core: float,
    binder: float,
    gas_yield: float,
    seconds: float,
    vents: float,
    diameter: float,
    length: float,
    head: float,
    temperature: float,
) -> Worked:
    hot = hot_volume(binder_gas(core, binder, gas_yield), temperature)
    pressure = ferrostatic_pressure(head, LIQUID)
    passes = vents * vent_flow(diameter, length, pressure, temperature)
    value = hot / seconds / passes * 100.0
    working = (
        f"gas = {figure(hot)} l hot over {figure(seconds)} s = {figure(hot / seconds)} l/s",
        f"vents: {figure(vents)}, passing {figure(passes)} l/s at the {figure(pressure)} kPa "
        "that the iron holds back",
        *steps(
            "load = gas / what the vents pass x 100",
            f"{figure(hot / seconds)} / {figure(passes)} x 100",
            value,
            "%",
        ),
    )
    warnings = [_ROUGH, "gas comes fastest at first: the peak is several times this mean", _FUME]
    if value > 100:
        warnings.insert(0, "the vents cannot carry it: the core will blow through the iron")
    elif value > ROOM:
        warnings.insert(0, "no room for the peak: more or wider vents, less binder, a hollow core")
    return Worked(value, "%", working, _VENTING.source, tuple(warnings))


def _work_vents(
    core: float,
    binder: float,
    gas_yield: float,
    seconds: float,
    diameter: float,
    length: float,
    head: float,
    temperature: float,
) -> Worked:
    one = _work_venting(core, binder, gas_yield, seconds, 1, diameter, length, head, temperature)
    value = one.value / ROOM
    lines = steps("vents = load of one vent / 25 %", f"{figure(one.value)} / 25", value, "vents")
    return Worked(value, "vents", (*one.working[:1], *lines), _VENTING.source, (_ROUGH, _FUME))


def _work_against(head: float, pressure: float, density: float) -> Worked:
    iron = ferrostatic_pressure(head, density)
    value = iron - pressure
    working = (
        f"pressure of the iron over the core = {figure(iron)} kPa",
        *steps(
            "margin = pressure of the iron - gas pressure in the core",
            f"{figure(iron)} - {figure(pressure)}",
            value,
            "kPa",
        ),
    )
    warnings = ["take the highest spot of the core: there the iron holds back least", _ROUGH]
    if value <= 0:
        warnings.insert(0, "gas can bubble through the iron: vent, bake or fill higher and faster")
    return Worked(value, "kPa", working, _AGAINST.source, tuple(warnings))


def _work_print(
    flow: float, length: float, area: float, permeability: float, temperature: float
) -> Worked:
    value = sand_back_pressure(flow, length, area, permeability, temperature)
    working = (
        "pressure = flow x way / (permeability x area), thicker when hot",
        f"= {figure(flow * 60000)} cm3/min x {figure(length / 10)} cm / ({figure(permeability)} x "
        f"{figure(area)} cm2), at {figure(temperature)} degC",
        f"= {figure(value)} kPa = {figure(value / ferrostatic_pressure(1.0, LIQUID))} mm of iron",
    )
    return Worked(value, "kPa", working, _PRINT.source, (_ROUGH,))


def _work_strip(minutes: float, known: float, temperature: float) -> Worked:
    value = strip_time(minutes, known, temperature)
    numbers = f"{figure(minutes)} x 2^(({figure(known)} - {figure(temperature)}) / 8.333)"
    formula = "strip time = known time x 2^((known temperature - temperature) / 8.333)"
    warnings = (
        "the paper prints 15 degF as 9.4 degC; a difference of 15 degF is 8.33 K",
        "go by the sand at the mixer and the box, and try a test piece",
    )
    return Worked(value, "min", steps(formula, numbers, value, "min"), _STRIP.source, warnings)


_CORE = Input("core", "core that gets hot", "kg", 0.001, 10000)
_BINDER_IN = Input("binder", "binder in the core", "%", 0.05, 15)
_YIELD = Input(
    "gas_yield",
    "gas at 0 degC from a gram of binder",
    "cm3/g",
    50,
    2000,
    default=round(BINDER_YIELD),
)
_TEMPERATURE = Input("temperature", "temperature of the gas", "degC", 0, 1400, default=600)
_DIAMETER = Input("diameter", "bore of a vent", "mm", 0.5, 100)
_LENGTH = Input("length", "length of a vent", "mm", 1, 5000)
_GAS = Calculation(
    "core-gas",
    "Gas that a core can give",
    (_CORE, _BINDER_IN, _YIELD, _TEMPERATURE),
    "l",
    f"{_BINDER}: 82 % of a phenolic-urethane binder turns to gas of 33.3 g/mol. Other binders "
    "differ: put in their own figure.",
    _work_gas,
)
_STEAM = Calculation(
    "steam-from-sand",
    "Steam that damp sand can give",
    (
        Input("sand", "damp sand that gets hot", "kg", 0.001, 10000),
        Input("moisture", "its moisture", "%", 0, 20, reading="moulding sand moisture"),
    ),
    "l",
    "Molar volume of a gas (exact); 18.015 g/mol of water.",
    _work_steam,
)
_VENT = Calculation(
    "vent-flow",
    "Gas that one vent passes",
    (_DIAMETER, _LENGTH, Input("pressure", "pressure behind it", "kPa", 0.001, 100), _TEMPERATURE),
    "l/s",
    f"{_FLOW}.",
    _work_vent,
)
_VENTING = Calculation(
    "core-venting",
    "Load on the vents of a core",
    (
        _CORE,
        _BINDER_IN,
        _YIELD,
        Input("seconds", "time over which the gas comes", "s", 0.5, 3600),
        Input("vents", "number of vents", "", 1, 1000),
        _DIAMETER,
        _LENGTH,
        Input("head", "iron above the highest spot of the core", "mm", 1, 5000),
        _TEMPERATURE,
    ),
    "%",
    f"{_BINDER}; {_FLOW}.",
    _work_venting,
)
_VENTS = Calculation(
    "vents-for-core",
    "Vents that leave room for the peak of the gas",
    (
        _CORE,
        _BINDER_IN,
        _YIELD,
        Input("seconds", "time over which the gas comes", "s", 0.5, 3600, default=30),
        Input("diameter", "bore of a vent", "mm", 0.5, 100, default=3),
        Input("length", "length of a vent", "mm", 1, 5000, default=200),
        Input("head", "iron above the highest spot of the core", "mm", 1, 5000),
        _TEMPERATURE,
    ),
    "vents",
    f"{_BINDER}; {_FLOW}. A quarter of what they pass leaves room for the peak (judgement).",
    _work_vents,
)
_AGAINST = Calculation(
    "core-gas-against-head",
    "Iron over the core against the gas in it",
    (
        Input("head", "iron above the highest spot of the core", "mm", 0, 5000),
        Input("pressure", "gas pressure in the core", "kPa", 0, 100),
        Input("density", "density of the metal", "kg/m3", 1500, 20000, default=LIQUID),
    ),
    "kPa",
    "Pressure of a liquid column (exact). A measured peak for a hollow printed furan core: "
    "1.09 kPa, Materials 2023, 16, 4152 (read).",
    _work_against,
)
_PRINT = Calculation(
    "sand-back-pressure",
    "Pressure that pushes gas through core print or mould sand",
    (
        Input("flow", "hot gas that has to pass", "l/s", 0, 1000),
        Input("length", "way through the sand", "mm", 1, 2000),
        Input("area", "area it passes through", "cm2", 0.1, 100000),
        Input("permeability", "permeability number of the sand", "AFS", 1, 2000),
        _TEMPERATURE,
    ),
    "kPa",
    "Definition of the permeability number (read); viscosity of hot gas as for air, from memory.",
    _work_print,
)
_STRIP = Calculation(
    "no-bake-strip-time",
    "Strip time of no-bake sand at another temperature",
    (
        Input("minutes", "strip time known", "min", 0.1, 1440),
        Input("known", "sand temperature it was found at", "degC", -10, 50),
        Input("temperature", "sand temperature now", "degC", -10, 50),
    ),
    "min",
    "Paper on no-bake strip time, AFS Transactions, 2007 (read): doubles for every 15 degF colder.",
    _work_strip,
)
CALCULATIONS = (_GAS, _STEAM, _VENT, _VENTING, _VENTS, _AGAINST, _PRINT, _STRIP)
