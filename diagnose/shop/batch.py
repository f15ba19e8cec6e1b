"""What to throw into the mill: water, clay, coal dust and new sand for a batch of given weight."""

from __future__ import annotations

from diagnose.shop.balance import (
    addition,
    dilution,
    dry_part,
    water_to_add,
    water_to_drive_off,
)
from diagnose.shop.calculation import Calculation, Input, Worked, figure, require, steps

_BALANCE = "Mass balance (exact): moisture on moist sand, everything else on dry sand."
_DUST = "dust: silica, clay and coal harm the lungs; add under extraction, wear a mask"
_COAL = "coal dust burns and can explode as a cloud: no flame, no blowing it about, store it dry"
_IN_STEPS = "add nine tenths first, mull, test, then the rest: a mill hand can add, not take out"


def _work_water(
    batch: float, moisture: float, target: float, dry_added: float, added_moisture: float
) -> Worked:
    value = water_to_add(batch, moisture, target, dry_added, added_moisture)
    whole = batch + dry_added
    inside = moisture * batch + added_moisture * dry_added
    formula = "water = (target x whole - water that is in it x 100) / (100 - target)"
    numbers = f"({figure(target)} x {figure(whole)} - {figure(inside)}) / (100 - {figure(target)})"
    return Worked(value, "kg", steps(formula, numbers, value, "kg"), _BALANCE, (_IN_STEPS,))


def _work_drying(batch: float, moisture: float, target: float) -> Worked:
    value = water_to_drive_off(batch, moisture, target)
    formula = "water = batch x (moisture - target) / (100 - target)"
    numbers = (
        f"{figure(batch)} x ({figure(moisture)} - {figure(target)}) / (100 - {figure(target)})"
    )
    warnings = (
        "spread and turn the sand, or blend it with drier sand; sand dried hot must cool again",
        "iron poured on wet sand kicks and blows: stand nothing hot on it until it is tempered",
    )
    return Worked(value, "kg", steps(formula, numbers, value, "kg"), _BALANCE, warnings)


def _work_clay(
    batch: float, moisture: float, clay: float, target: float, strength: float, damp: float
) -> Worked:
    dry = dry_part(batch, moisture)
    value = addition(dry, clay, target, strength, damp)
    formula = "clay = dry sand x (target - clay) / (strength - target) / (1 - its moisture / 100)"
    numbers = (
        f"{figure(dry)} x ({figure(target)} - {figure(clay)}) / ({figure(strength)} - "
        f"{figure(target)}) / (1 - {figure(damp)} / 100)"
    )
    warnings = (
        _DUST,
        "new clay takes long mulling before the whole of it bonds: raise it over several rounds",
    )
    return Worked(value, "kg", steps(formula, numbers, value, "kg"), _BALANCE, warnings)


def _work_make_up(
    batch: float,
    moisture: float,
    moisture_target: float,
    clay: float,
    clay_target: float,
    strength: float,
    damp: float,
) -> Worked:
    dry = dry_part(batch, moisture)
    clay_in = addition(dry, clay, clay_target, strength, damp)
    value = water_to_add(batch, moisture, moisture_target, clay_in, damp)
    whole = batch + clay_in + value
    working = (
        f"dry sand = {figure(batch)} x (1 - {figure(moisture)} / 100) = {figure(dry)} kg",
        f"clay as delivered = {figure(clay_in)} kg, to {figure(clay_target)} % live clay",
        *steps(
            "water = (target x whole - water that is in it x 100) / (100 - target)",
            f"({figure(moisture_target)} x {figure(batch + clay_in)} - "
            f"{figure(moisture * batch + damp * clay_in)}) / (100 - {figure(moisture_target)})",
            value,
            "kg of water",
        ),
        f"the batch then weighs {figure(whole)} kg",
    )
    return Worked(value, "kg", working, _BALANCE, (_IN_STEPS, _DUST))


def _work_coal(
    batch: float, moisture: float, ignition: float, target: float, strength: float, damp: float
) -> Worked:
    dry = dry_part(batch, moisture)
    value = addition(dry, ignition, target, strength, damp)
    formula = "coal = dry sand x (target - loss) / (loss of coal - target) / (1 - moisture / 100)"
    numbers = (
        f"{figure(dry)} x ({figure(target)} - {figure(ignition)}) / ({figure(strength)} - "
        f"{figure(target)}) / (1 - {figure(damp)} / 100)"
    )
    warnings = (
        _DUST,
        _COAL,
        "2-3 % coal dust serves light castings, up to 7-8 % heavy ones (read in a digest): too "
        "much gives gas, misruns and a crazed skin",
    )
    return Worked(value, "kg", steps(formula, numbers, value, "kg"), _BALANCE, warnings)


def _work_dilution(
    batch: float, moisture: float, level: float, target: float, fresh: float
) -> Worked:
    dry = dry_part(batch, moisture)
    value = dilution(dry, level, target, fresh)
    formula = "new sand = dry sand x (level - target) / (target - level in new sand)"
    numbers = (
        f"{figure(dry)} x ({figure(level)} - {figure(target)}) / "
        f"({figure(target)} - {figure(fresh)})"
    )
    part = value / (dry + value) * 100
    warnings = [
        f"the mixture is then {figure(part)} % new sand: live clay, coal dust and water are "
        "thinned too; make them up",
        _DUST,
    ]
    if part > 20:
        warnings.append("so much at once upsets the sand: spread it over several rounds")
    return Worked(value, "kg", steps(formula, numbers, value, "kg"), _BALANCE, tuple(warnings))


def _work_new_sand_rule(metal: float, cores: float) -> Worked:
    whole = metal * 0.15
    require(
        cores <= whole,
        f"cores: {figure(cores)} kg is more than the {figure(whole)} kg that the rule asks for; "
        "right would be at most that. The core sand renews the system by itself.",
    )
    value = whole - cores
    working = steps(
        "new sand = 0.15 x metal - core sand that falls into the system",
        f"0.15 x {figure(metal)} - {figure(cores)}",
        value,
        "kg",
    )
    warnings = (
        "an old rule; the article that quotes it wants it worked out for each shop. Steer by dead "
        "clay and loss on ignition",
        _DUST,
    )
    return Worked(value, "kg", working, _NEW_SAND_RULE.source, warnings)


_BATCH = Input("batch", "sand in the mill, moist", "kg", 1, 100000)
_MOISTURE = Input(
    "moisture", "its moisture, wet basis", "%", 0, 20, reading="moulding sand moisture"
)
_LEVEL_TARGET = Input("target", "live clay wanted", "%", 0, 30)
_STRENGTH = Input(
    "strength", "live clay in the new clay, by your own calibration", "%", 30, 100, default=100
)
_DAMP = Input("damp", "moisture of the addition as delivered", "%", 0, 30, default=0)
_WATER = Calculation(
    "water-addition",
    "Water to temper a batch",
    (
        _BATCH,
        _MOISTURE,
        Input("target", "moisture wanted", "%", 0.5, 15),
        Input("dry_added", "clay, coal dust or new sand thrown in", "kg", 0, 100000, default=0),
        Input("added_moisture", "moisture of what was thrown in", "%", 0, 30, default=0),
    ),
    "kg",
    _BALANCE,
    _work_water,
)
_DRYING = Calculation(
    "drying",
    "Water to drive off from a batch that is too wet",
    (_BATCH, _MOISTURE, Input("target", "moisture wanted", "%", 0, 15)),
    "kg",
    _BALANCE,
    _work_drying,
)
_CLAY = Calculation(
    "clay-addition",
    "Clay to bring a batch to its live clay",
    (
        _BATCH,
        _MOISTURE,
        Input("clay", "live clay now, on dry sand", "%", 0, 30),
        _LEVEL_TARGET,
        _STRENGTH,
        _DAMP,
    ),
    "kg",
    _BALANCE,
    _work_clay,
)
_MAKE_UP = Calculation(
    "batch-make-up",
    "Water for a batch, with the clay that it wants",
    (
        _BATCH,
        _MOISTURE,
        Input("moisture_target", "moisture wanted", "%", 0.5, 15),
        Input("clay", "live clay now, on dry sand", "%", 0, 30),
        Input("clay_target", "live clay wanted", "%", 0, 30),
        _STRENGTH,
        _DAMP,
    ),
    "kg",
    _BALANCE,
    _work_make_up,
)
_COAL_DUST = Calculation(
    "coal-dust-addition",
    "Coal dust to bring a batch to its loss on ignition",
    (
        _BATCH,
        _MOISTURE,
        Input("ignition", "loss on ignition now", "%", 0, 30),
        Input("target", "loss on ignition wanted", "%", 0, 30),
        Input("strength", "loss on ignition of the coal dust itself, dry", "%", 40, 100),
        _DAMP,
    ),
    "kg",
    _BALANCE,
    _work_coal,
)
_NEW_SAND = Calculation(
    "new-sand-dilution",
    "New sand to thin out dead clay, ash or coal",
    (
        _BATCH,
        _MOISTURE,
        Input(
            "level", "dead clay, or loss on ignition, now", "%", 0, 40, reading="dead clay and silt"
        ),
        Input("target", "the same, wanted", "%", 0, 40),
        Input("fresh", "the same in the new sand", "%", 0, 10, default=0),
    ),
    "kg",
    _BALANCE,
    _work_dilution,
)
_NEW_SAND_RULE = Calculation(
    "new-sand-for-metal",
    "New sand by the old rule for metal poured",
    (
        Input("metal", "metal poured", "kg", 1, 1000000),
        Input("cores", "core sand that falls into the system", "kg", 0, 1000000, default=0),
    ),
    "kg",
    "300 lb a short ton of metal: Optimizing New Sand and Core Sand Additions, trade article, 2005 "
    "(read), which doubts the rule.",
    _work_new_sand_rule,
)
CALCULATIONS = (_WATER, _DRYING, _CLAY, _MAKE_UP, _COAL_DUST, _NEW_SAND, _NEW_SAND_RULE)
