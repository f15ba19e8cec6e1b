"""Sand tests that end on the scale: moisture, washed clay, loss on ignition, volatiles."""

from __future__ import annotations

from diagnose.shop.calculation import Calculation, Input, Worked, figure, require, steps
from diagnose.shop.series import Reading, within

_TEST_LIST = "What Do the Numbers Mean?, Modern Casting, 15 Dec 2014 (read)"


def loss(before: Reading, after: Reading) -> Reading:
    """Return what was lost, in per cent of the mass before.

    Both masses in the same unit, above 0, ``after`` not above ``before``; arrays give arrays.
    Moisture on the wet basis, washed clay and loss on ignition are all of this form.

    References: TJFS-201, moisture of green sand (read). A soil weighing published on this basis:
    84.0 g with 1.7 g of water, printed as 2.0 %:

    >>> round(loss(84.0, 82.3), 2)
    2.02
    """
    within("mass before", before, "g", above=True)
    within("mass after", after, "g")
    within("mass before less mass after", before - after, "g")
    return (before - after) / before * 100.0


def moisture_on_dry(moist: Reading, dry: Reading) -> Reading:
    """Return the water in per cent of the dry sand: not what the foundry calls moisture.

    Masses in the same unit, above 0, ``dry`` not above ``moist``.

    References: soil-laboratory practice; a report with 48.91 g moist, 39.06 g dry prints 25.217 %:

    >>> round(moisture_on_dry(48.91, 39.06), 3)
    25.218
    """
    within("moist mass", moist, "g", above=True)
    within("dry mass", dry, "g", above=True)
    within("moist mass less dry mass", moist - dry, "g")
    return (moist - dry) / dry * 100.0


def wet_from_dry(on_dry: Reading) -> Reading:
    """Turn water in per cent of dry sand into moisture in per cent of moist sand.

    >>> round(wet_from_dry(25.218), 2)
    20.14
    """
    within("water on dry sand", on_dry, "%")
    return on_dry / (100.0 + on_dry) * 100.0


def dry_from_wet(moisture: Reading) -> Reading:
    """Turn moisture in per cent of moist sand into water in per cent of dry sand.

    >>> round(dry_from_wet(3.3), 3)
    3.413
    """
    within("moisture", moisture, "%", 0.0, 99.0)
    return moisture / (100.0 - moisture) * 100.0


def _work_moisture(moist: float, dry: float) -> Worked:
    value = loss(moist, dry)
    on_dry = moisture_on_dry(moist, dry)
    numbers = f"({figure(moist)} - {figure(dry)}) / {figure(moist)} x 100"
    return Worked(
        value,
        "%",
        steps("moisture = water / moist sand x 100", numbers, value, "%"),
        _MOISTURE.source,
        (f"on the dry basis it would read {figure(on_dry)} %: keep to one basis, the wet one",),
    )


def _work_moisture_on_dry(moist: float, dry: float) -> Worked:
    value = moisture_on_dry(moist, dry)
    numbers = f"({figure(moist)} - {figure(dry)}) / {figure(dry)} x 100"
    return Worked(
        value,
        "%",
        steps("water on dry sand = water / dry sand x 100", numbers, value, "%"),
        _ON_DRY.source,
        (
            f"the foundry's moisture (wet basis) is {figure(loss(moist, dry))} %: "
            "a lab sheet on the dry basis reads higher",
        ),
    )


def _work_wet_from_dry(on_dry: float) -> Worked:
    value = wet_from_dry(on_dry)
    numbers = f"{figure(on_dry)} / (100 + {figure(on_dry)}) x 100"
    working = steps(
        "moisture = dry-basis water / (100 + dry-basis water) x 100", numbers, value, "%"
    )
    return Worked(value, "%", working, _WET_FROM_DRY.source)


def _work_clay(dry: float, washed: float) -> Worked:
    value = loss(dry, washed)
    numbers = f"({figure(dry)} - {figure(washed)}) / {figure(dry)} x 100"
    return Worked(
        value,
        "%",
        steps("AFS clay = washed out / dry sand x 100", numbers, value, "%"),
        _AFS_CLAY.source,
        ("AFS clay is everything that settles slowly: live clay, dead clay, coal ash and silt",),
    )


def _work_ignition(dry: float, burnt: float) -> Worked:
    value = loss(dry, burnt)
    numbers = f"({figure(dry)} - {figure(burnt)}) / {figure(dry)} x 100"
    return Worked(
        value,
        "%",
        steps("loss on ignition = burnt off / dry sand x 100", numbers, value, "%"),
        _IGNITION.source,
        (
            "clay gives off its bound water too, so clay alone shows a small loss",
            "burn off under a working hood: carbon monoxide and tar fume",
        ),
    )


def _work_volatiles(dry: float, heated: float, ignition: float) -> Worked:
    value = loss(dry, heated)
    require(
        value <= ignition,
        f"volatiles: {figure(value)} % cannot be more than the loss on ignition of "
        f"{figure(ignition)} %; right would be at most that. Weigh again.",
    )
    numbers = f"({figure(dry)} - {figure(heated)}) / {figure(dry)} x 100"
    left = f"the rest of the loss on ignition is fixed: {figure(ignition - value)} %"
    working = (
        *steps("volatiles = driven off at 482 degC / dry sand x 100", numbers, value, "%"),
        left,
    )
    return Worked(value, "%", working, _VOLATILES.source)


def _mass(name: str, what: str) -> Input:
    return Input(name, what, "g", 0.01, 5000)


_MOISTURE = Calculation(
    "moisture",
    "Moisture of sand",
    (_mass("moist", "sample as taken"), _mass("dry", "the same sample dried at 105-110 degC")),
    "%",
    "TJFS-201, moisture of green sand (read): 50 g, 105 +/- 5 degC to constant mass, wet basis.",
    _work_moisture,
)
_ON_DRY = Calculation(
    "moisture-dry-basis",
    "Water on dry sand",
    (_mass("moist", "sample as taken"), _mass("dry", "the same sample dried at 105-110 degC")),
    "%",
    "Soil-laboratory practice, several reports (read). Not the foundry's moisture.",
    _work_moisture_on_dry,
)
_WET_FROM_DRY = Calculation(
    "moisture-from-dry-basis",
    "Moisture from a dry-basis figure",
    (Input("on_dry", "water in per cent of dry sand", "%", 0, 100),),
    "%",
    "Mass balance (exact).",
    _work_wet_from_dry,
)
_AFS_CLAY = Calculation(
    "afs-clay",
    "AFS clay",
    (_mass("dry", "dried sample before washing"), _mass("washed", "grain left after washing")),
    "%",
    "AFS clay by washing: particles that settle slower than 1 inch a minute, under about 20 "
    "micrometres (read in a laboratory sheet and in a GB/T 9442 summary).",
    _work_clay,
)
_IGNITION = Calculation(
    "loss-on-ignition",
    "Loss on ignition",
    (_mass("dry", "dried sample"), _mass("burnt", "what is left after burning to constant mass")),
    "%",
    f"{_TEST_LIST}: total combustibles. Muffle at about 900-1000 degC: from memory.",
    _work_ignition,
)
_VOLATILES = Calculation(
    "volatiles",
    "Volatiles",
    (
        _mass("dry", "dried sample"),
        _mass("heated", "the same after heating at 482 degC (900 degF)"),
        Input("ignition", "loss on ignition of the same sand", "%", 0, 100),
    ),
    "%",
    f"{_TEST_LIST}: volatiles at 900 degF (482 degC).",
    _work_volatiles,
)
CALCULATIONS = (_MOISTURE, _ON_DRY, _WET_FROM_DRY, _AFS_CLAY, _IGNITION, _VOLATILES)
