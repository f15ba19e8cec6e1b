"""Sums on the closed mould: lift, weights and clamps, pressure on walls and prints."""

from __future__ import annotations

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.lift import (
    CORE_SAND,
    clamps,
    cope_lift,
    core_lift,
    ferrostatic_pressure,
    pressure_head,
    print_area,
    wall_force,
    wall_pressure,
    weight_on_top,
)
from diagnose.shop.metal import SOLID
from diagnose.shop.physics import GRAVITY

_WEIGHTS = (
    "BCIRA Broadsheet 38, Calculation of weights for moulds, and Shop Practice, Moulding Work "
    "(both read)."
)
_RUN_OUT = "a cope that lifts lets iron run out at the joint: weights on first, stand clear"
_BLOW = "the blow of the metal as the mould fills comes on top: that is what the margin is for"
_HEAD = "count the head from the top of the pouring basin, as full as it will ever be"


def _work_pressure(head: float, density: float) -> Worked:
    value = ferrostatic_pressure(head, density)
    numbers = f"{figure(density)} x {figure(GRAVITY)} x {figure(head)} / 1 000 000"
    working = steps("pressure = density x 9.80665 x head", numbers, value, "kPa")
    return Worked(value, "kPa", working, _PRESSURE.source, (_HEAD,))


def _work_head(pressure: float, density: float) -> Worked:
    value = pressure_head(pressure, density)
    numbers = f"{figure(pressure)} x 1 000 000 / ({figure(density)} x {figure(GRAVITY)})"
    working = steps("head = pressure / (density x 9.80665)", numbers, value, "mm")
    return Worked(value, "mm", working, _PRESSURE.source)


def _work_cope(area: float, head: float, density: float, rising: float) -> Worked:
    value = cope_lift(area, head, density, rising)
    numbers = (
        f"{figure(density)} x {figure(GRAVITY)} x ({figure(area)} x {figure(head)} / 10 - "
        f"{figure(rising)}) / 1 000 000"
    )
    formula = "lift = density x 9.80665 x (area x head - volume that rises into the cope)"
    working = (
        *steps(formula, numbers, value, "N"),
        f"= {figure(value / GRAVITY)} kg to hold it down, without margin",
    )
    warnings = (
        "area is the casting seen from above: a curved surface would count it twice",
        _HEAD,
        _BLOW,
        _RUN_OUT,
    )
    return Worked(value, "N", working, _WEIGHTS, warnings)


def _work_core(volume: float, prints: float, metal: float, core: float, way: str) -> Worked:
    gross = way == "gross"
    value = core_lift(volume, metal, core, gross=gross, prints=prints)
    other = core_lift(volume, metal, core, gross=not gross, prints=prints)
    if gross:
        formula = "gross lift = metal displaced x 9.80665"
        numbers = f"{figure(metal)} x {figure(volume)} / 1 000 000 x {figure(GRAVITY)}"
    else:
        formula = "net lift = (metal displaced - weight of the core) x 9.80665"
        numbers = (
            f"({figure(metal)} x {figure(volume)} - {figure(core)} x {figure(volume + prints)}) / "
            f"1 000 000 x {figure(GRAVITY)}"
        )
    warnings = (
        f"two conventions are published; the {'net' if gross else 'gross'} one gives "
        f"{figure(other)} N. Gross is the safe one for weights, net is what bends the core",
        "a core is about four and a half times lighter than the iron it displaces: fix it down",
    )
    return Worked(value, "N", steps(formula, numbers, value, "N"), _CORE.source, warnings)


def _work_weight(lift: float, on_cores: float, cope: float, factor: float) -> Worked:
    value = weight_on_top(lift, on_cores, cope, factor)
    formula = "weight = factor x (lift on cope + lift on cores) / 9.80665 - weight of the cope"
    numbers = (
        f"{figure(factor)} x ({figure(lift)} + {figure(on_cores)}) / {figure(GRAVITY)} - "
        f"{figure(cope)}"
    )
    warnings = [
        _BLOW,
        _RUN_OUT,
        "lift weights by the rules for lifting; lay them over the bars, not over vents and risers",
    ]
    if factor < 1.4:
        warnings.insert(0, "practice lays on about 1.43 times the lift or more (read)")
    return Worked(value, "kg", steps(formula, numbers, value, "kg"), _WEIGHTS, tuple(warnings))


def _work_laid_on(area: float, head: float, cope: float, factor: float) -> Worked:
    lift = cope_lift(area, head)
    value = weight_on_top(lift, 0.0, cope, factor)
    lines = (
        f"lift = {figure(area)} cm2 under {figure(head)} mm of iron = {figure(lift)} N",
        *steps(
            "weight = factor x lift / 9.80665 - weight of the cope",
            f"{figure(factor)} x {figure(lift)} / {figure(GRAVITY)} - {figure(cope)}",
            value,
            "kg",
        ),
    )
    return Worked(value, "kg", lines, _WEIGHTS, (_BLOW, _RUN_OUT))


def _work_clamps(pull: float, load: float, factor: float) -> Worked:
    value = clamps(pull, load, factor)
    working = steps(
        "clamps = factor x pull / load of one clamp, rounded up, two at least",
        f"{figure(factor)} x {figure(pull)} / {figure(load)}",
        value,
        "clamps",
    )
    warnings = (
        "set them in pairs across the box; a bent, cracked or welded clamp does not count",
        "on snap-flask moulds put clamps on just before pouring: long pressure crushes the sand",
        _RUN_OUT,
    )
    return Worked(value, "clamps", working, _CLAMPS.source, warnings)


def _work_wall(height: float, top: float, density: float) -> Worked:
    value = wall_pressure(height, top, density)
    depth = f"({figure(top)} + {figure(height)} / 2)"
    numbers = f"{figure(density)} x {figure(GRAVITY)} x {depth} / 1 000 000"
    formula = "mean pressure = density x 9.80665 x (depth of its top + half its height)"
    warning = "the lowest part carries more than the mean: ram hardest there, or the wall swells"
    return Worked(value, "kPa", steps(formula, numbers, value, "kPa"), _WALL_SOURCE, (warning,))


def _work_wall_force(width: float, height: float, top: float, density: float) -> Worked:
    value = wall_force(width, height, top, density)
    mean = wall_pressure(height, top, density)
    numbers = f"{figure(mean)} x {figure(width)} x {figure(height)} / 1000"
    warning = "it pushes the sand against the box: keep sand enough between casting and box wall"
    return Worked(
        value,
        "N",
        steps("side force = mean pressure x width x height", numbers, value, "N"),
        _WALL_SOURCE,
        (warning, "moulds without a box, and pit moulds: shore them before pouring"),
    )


def _work_print(lift: float, strength: float, factor: float) -> Worked:
    value = print_area(lift, strength, factor)
    numbers = f"{figure(factor)} x {figure(lift)} / {figure(strength)} x 10"
    formula = "area = factor x lift / green compression strength"
    warnings = (
        "count only print that the cope really bears on; where it is too small, set chaplets: "
        "clean, dry and free from rust",
        "published chaplet rules in mixed units do not agree; none is used here",
    )
    return Worked(value, "cm2", steps(formula, numbers, value, "cm2"), _PRINT.source, warnings)


_WALL_SOURCE = "Shop Practice, Moulding Work (read): pressure at half the height times the area."
_DENSITY = Input("density", "density of the metal", "kg/m3", 1500, 20000, default=SOLID)
_TOP = Input("top", "pouring level above the top of the wall", "mm", 0, 5000)
_FACTOR = Input("factor", "margin on the lift", "", 1, 4, default=1.5)
_PRESSURE = Calculation(
    "ferrostatic-pressure",
    "Pressure of liquid iron under a head",
    (Input("head", "height of the pouring level above the spot", "mm", 0, 10000), _DENSITY),
    "kPa",
    "Pressure of a liquid column (exact); 0.26 lb/in3 for iron: Shop Practice and BCIRA "
    "Broadsheet 38 (both read).",
    _work_pressure,
)
_HEAD_FOR = Calculation(
    "pressure-head",
    "Head of iron that gives a pressure",
    (Input("pressure", "pressure wanted", "kPa", 0, 700), _DENSITY),
    "mm",
    _PRESSURE.source,
    _work_head,
)
_COPE = Calculation(
    "cope-lift",
    "Lift on the cope",
    (
        Input("area", "casting seen from above, risers left out", "cm2", 0.1, 1000000),
        Input("head", "pouring level above the cope surface (or the joint)", "mm", 0, 5000),
        _DENSITY,
        Input(
            "rising",
            "casting that rises into the cope, when the head counts from the joint",
            "cm3",
            0,
            10000000,
            default=0,
        ),
    ),
    "N",
    _WEIGHTS,
    _work_cope,
)
_CORE = Calculation(
    "core-lift",
    "Lift on a core",
    (
        Input("volume", "core that lies in metal, prints left out", "cm3", 0.1, 10000000),
        Input("prints", "its prints", "cm3", 0, 10000000, default=0),
        Input("metal", "density of the metal", "kg/m3", 1500, 20000, default=SOLID),
        Input("core", "density of the core", "kg/m3", 300, 6000, default=CORE_SAND),
        Input(
            "way", "net of the core's weight, or gross", "", choices=("net", "gross"), default="net"
        ),
    ),
    "N",
    "Net: problem sheets on mould weights; gross: trade lexicon, Lifting force (all read).",
    _work_core,
)
_WEIGHT = Calculation(
    "mould-weight",
    "Weight to lay on the cope",
    (
        Input("lift", "lift on the cope", "N", 0, 10000000),
        Input("on_cores", "lift on cores that bear on the cope", "N", 0, 10000000, default=0),
        Input("cope", "weight of the cope, box and sand", "kg", 0, 100000, default=0),
        _FACTOR,
    ),
    "kg",
    _WEIGHTS,
    _work_weight,
)
_LAID_ON = Calculation(
    "weight-for-face",
    "Weight to lay on a cope over a casting of this size",
    (
        Input("area", "casting seen from above", "cm2", 0.5, 1000000),
        Input("head", "pouring level over the face of the cope", "mm", 0, 5000),
        Input("cope", "weight of the cope, box and sand", "kg", 0, 100000, default=0),
        _FACTOR,
    ),
    "kg",
    _WEIGHTS,
    _work_laid_on,
)
_CLAMPS = Calculation(
    "mould-clamps",
    "Clamps to hold the boxes together",
    (
        Input("pull", "lift on cope and cores, less the cope", "N", 0, 10000000),
        Input("load", "working load of one clamp, by its maker", "N", 10, 1000000),
        _FACTOR,
    ),
    "clamps",
    "Load over working load; two at least: common practice, no source.",
    _work_clamps,
)
_WALL = Calculation(
    "wall-pressure",
    "Mean pressure on an upright mould wall",
    (Input("height", "height of the wall", "mm", 1, 5000), _TOP, _DENSITY),
    "kPa",
    _WALL_SOURCE,
    _work_wall,
)
_WALL_FORCE = Calculation(
    "wall-force",
    "Side force on an upright mould wall",
    (
        Input("width", "width of the wall", "mm", 1, 10000),
        Input("height", "height of the wall", "mm", 1, 5000),
        _TOP,
        _DENSITY,
    ),
    "N",
    _WALL_SOURCE,
    _work_wall_force,
)
_PRINT = Calculation(
    "core-print-area",
    "Core print that holds a core down without crushing the mould",
    (
        Input("lift", "net lift on the core", "N", 0, 1000000),
        Input("strength", "green compression strength of the mould", "kPa", 10, 10000),
        Input("factor", "margin on the strength", "", 1, 10, default=3),
    ),
    "cm2",
    "Load over area; the margin of three is our own.",
    _work_print,
)
CALCULATIONS = (
    _PRESSURE,
    _HEAD_FOR,
    _COPE,
    _CORE,
    _WEIGHT,
    _LAID_ON,
    _CLAMPS,
    _WALL,
    _WALL_FORCE,
    _PRINT,
)
