"""The bond equations as sums the shop can ask for, in kPa and with their limits said."""

from __future__ import annotations

from diagnose.shop.bond import (
    available_bond,
    clay_to_water,
    compacted_strength_clay,
    equilibrium_compactability,
    equilibrium_moisture,
    moisture_strength_clay,
    muller_efficiency,
    mulling_index,
    working_bond,
)
from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.physics import PSI

_REPORT = (
    "ICRI Report 610 (12 Mar 2003), page 16, quoting a Penn State report (read); for 7 to 11 % "
    "live clay"
)
_FITTED = "fitted to new clay on new silica sand: read it as a trend of your own sand"


def _in_psi(strength: float) -> str:
    return f"green compression = {figure(strength)} kPa = {figure(strength / PSI)} psi"


def _off_clay(clay: float) -> tuple[str, ...]:
    if 7 <= clay <= 11:
        return ()
    return (f"{figure(clay)} % live clay lies outside 7 to 11 %, for which the line was drawn",)


def _work_available(strength: float, moisture: float) -> Worked:
    value = available_bond(strength / PSI, moisture)
    numbers = f"0.105 x {figure(strength / PSI)} + 1.316 x {figure(moisture)}"
    formula = "available bond = 0.105 x psi + 1.316 x moisture"
    working = (_in_psi(strength), *steps(formula, numbers, value, "%"))
    return Worked(value, "%", working, _AVAILABLE.source, (_FITTED,))


def _work_working(strength: float, compactability: float) -> Worked:
    value = working_bond(strength / PSI, compactability)
    numbers = f"15.29 x {figure(strength / PSI)} / (132.1 - {figure(compactability)})"
    formula = "working bond = 15.29 x psi / (132.1 - compactability)"
    working = (_in_psi(strength), *steps(formula, numbers, value, "%"))
    return Worked(value, "%", working, _WORKING.source, (_FITTED,))


def _work_moisture_clay(strength: float, moisture: float) -> Worked:
    value = moisture_strength_clay(strength / PSI, moisture)
    numbers = (
        f"(4.52 x 10^(1 / (2.5887 - 1.155 log {figure(moisture)} "
        f"- 0.5635 log {figure(strength / PSI)})) + 4.74) / 6"
    )
    formula = "clay = (4.52 x 10^(1 / (2.5887 - 1.155 log moisture - 0.5635 log psi)) + 4.74) / 6"
    working = (_in_psi(strength), *steps(formula, numbers, value, "%"))
    return Worked(value, "%", working, _MOISTURE_CLAY.source, (_FITTED,))


def _work_compacted_clay(strength: float, compactability: float) -> Worked:
    value = compacted_strength_clay(strength / PSI, compactability)
    numbers = (
        f"({figure(strength / PSI)} + 9.56 - 0.0971 x {figure(compactability)}) / "
        f"(11.25 - 0.1 x {figure(compactability)})"
    )
    formula = "clay = (psi + 9.56 - 0.0971 x compactability) / (11.25 - 0.1 x compactability)"
    working = (_in_psi(strength), *steps(formula, numbers, value, "%"))
    misprint = "the report prints a further factor of 100, which cannot be"
    return Worked(value, "%", working, _COMPACTED_CLAY.source, (_FITTED, misprint))


def _work_equilibrium(clay: float, compactability: float) -> Worked:
    value = equilibrium_moisture(clay, compactability)
    divisor = clay_to_water(compactability)
    formula = (
        f"moisture = live clay / {figure(divisor)} at {figure(compactability)} % compactability"
    )
    working = steps(formula, f"{figure(clay)} / {figure(divisor)}", value, "%")
    warnings = (
        *_off_clay(clay),
        "much more water than this at the same compactability: fines or dead clay drink it; "
        "much less: the sand is not mulled out",
    )
    return Worked(value, "%", working, _EQUILIBRIUM.source, warnings)


def _work_reached(clay: float, moisture: float) -> Worked:
    value = equilibrium_compactability(clay, moisture)
    numbers = f"where clay / water is {figure(clay)} / {figure(moisture)} = {clay / moisture:.3f}"
    formula = "the compactability on the same line"
    return Worked(value, "%", steps(formula, numbers, value, "%"), _REACHED.source, _off_clay(clay))


def _work_muller(strength: float, moisture: float, compactability: float) -> Worked:
    works = working_bond(strength / PSI, compactability)
    offers = available_bond(strength / PSI, moisture)
    value = muller_efficiency(works, offers)
    working = (
        _in_psi(strength),
        f"working bond = {figure(works)} %, available bond = {figure(offers)} %",
        *steps(
            "efficiency = working bond / available bond x 100",
            f"{figure(works)} / {figure(offers)} x 100",
            value,
            "%",
        ),
    )
    return Worked(value, "%", working, _MULLER.source, (_FITTED,))


def _work_mulling(
    strength: float,
    compactability: float,
    moisture: float,
    full_strength: float,
    full_compactability: float,
    full_moisture: float,
) -> Worked:
    now = mulling_index(strength, compactability, moisture)
    full = mulling_index(full_strength, full_compactability, full_moisture)
    value = muller_efficiency(now, full)
    working = (
        "efficiency = (strength x compactability / moisture) / (same, mulled out) x 100",
        f"= ({figure(strength)} x {figure(compactability)} / {figure(moisture)}) / "
        f"({figure(full_strength)} x {figure(full_compactability)} / {figure(full_moisture)})"
        " x 100",
        f"= {figure(value)} %",
    )
    warnings = []
    if value > 100:
        warnings.append("over 100 %: the reference was not mulled out, or lost water")
    if abs(full_compactability - compactability) > 5:
        warnings.append("the method wants both compactabilities within 5 %: temper the reference")
    return Worked(value, "%", working, _MULLING.source, tuple(warnings))


_STRENGTH = Input("strength", "green compression strength", "kPa", 10, 400)
_MOISTURE = Input("moisture", "moisture, wet basis", "%", 0.5, 10, reading="moulding sand moisture")
_HEIGHT = Input(
    "compactability", "compactability", "%", 20, 70, reading="compactability of the sand"
)
_CLAY = Input(
    "clay", "live clay by methylene blue", "%", 1, 20, reading="live clay by methylene blue"
)
_AVAILABLE = Calculation(
    "available-bond",
    "Available bond: clay that could bond",
    (_STRENGTH, _MOISTURE),
    "%",
    f"{_REPORT}.",
    _work_available,
)
_WORKING = Calculation(
    "working-bond",
    "Working bond: clay that does bond",
    (_STRENGTH, _HEIGHT),
    "%",
    f"{_REPORT}.",
    _work_working,
)
_MOISTURE_CLAY = Calculation(
    "moisture-strength-clay",
    "Available clay, extended equation",
    (_STRENGTH, _MOISTURE),
    "%",
    f"{_REPORT}.",
    _work_moisture_clay,
)
_COMPACTED_CLAY = Calculation(
    "compacted-strength-clay",
    "Effective clay, extended equation",
    (_STRENGTH, _HEIGHT),
    "%",
    f"{_REPORT}; printed there with a factor of 100 too much.",
    _work_compacted_clay,
)
_EQUILIBRIUM = Calculation(
    "water-for-clay",
    "Moisture that the live clay calls for",
    (_CLAY, Input("compactability", "compactability wanted", "%", 20, 70)),
    "%",
    f"{_REPORT}: equilibrium moisture.",
    _work_equilibrium,
)
_REACHED = Calculation(
    "compactability-for-water",
    "Compactability a fully mulled sand would reach",
    (_CLAY, _MOISTURE),
    "%",
    f"{_REPORT}: equilibrium compactability.",
    _work_reached,
)
_MULLER = Calculation(
    "muller-efficiency",
    "Muller efficiency from the two bonds",
    (_STRENGTH, _MOISTURE, _HEIGHT),
    "%",
    f"{_REPORT} for the bonds; their ratio as muller efficiency: from memory.",
    _work_muller,
)
_MULLING = Calculation(
    "mulling-efficiency",
    "Mulling efficiency against the same sand mulled out",
    (
        _STRENGTH,
        _HEIGHT,
        _MOISTURE,
        Input("full_strength", "green compression of the sand mulled out", "kPa", 10, 400),
        Input("full_compactability", "compactability of the sand mulled out", "%", 20, 70),
        Input("full_moisture", "moisture of the sand mulled out", "%", 0.5, 10),
    ),
    "%",
    "TJFS-108, green sand mulling efficiency (read).",
    _work_mulling,
)
CALCULATIONS = (
    _AVAILABLE,
    _WORKING,
    _MOISTURE_CLAY,
    _COMPACTED_CLAY,
    _EQUILIBRIUM,
    _REACHED,
    _MULLER,
    _MULLING,
)
