"""What a shift of dust or carbon monoxide comes to, against the limits of several countries."""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure
from diagnose.shop.series import within

SHIFT = 8.0
"""Hours over which exposure is averaged, however long the shift."""


def shift_average(levels: Mapping[str, float], hours: Mapping[str, float]) -> float:
    """Return the eight-hour average of ``levels`` met for ``hours``, task by task.

    Hours not named are taken as free of it. Raises OutOfRange when the tasks of the two tables
    differ, or when they fill more than a day.

    References: the definition of the eight-hour time-weighted average.

    >>> shift_average({"knock-out": 60.0, "bench": 20.0}, {"knock-out": 2.0, "bench": 6.0})
    30.0
    """
    for task, level in levels.items():
        within(f"level at {task}", level, "")
    for task, time in hours.items():
        within(f"hours at {task}", time, "h")
    if levels.keys() != hours.keys():
        odd = ", ".join(sorted(levels.keys() ^ hours.keys()))
        raise OutOfRange(f"{odd}: named in one table only; right would be a level and the hours.")
    within("hours in all", sum(hours.values()), "h", 0.0, 24.0, above=True)
    return sum(levels[task] * hours[task] for task in levels) / SHIFT


def _working(
    levels: Mapping[str, float], hours: Mapping[str, float], value: float, unit: str
) -> tuple[str, ...]:
    rows = " + ".join(f"{figure(levels[task])} x {figure(hours[task])}" for task in levels)
    return "average = sum of (level x hours) / 8", f"= ({rows}) / 8", f"= {figure(value)} {unit}"


def _work_silica(levels: Mapping[str, float], hours: Mapping[str, float]) -> Worked:
    value = shift_average(levels, hours)
    warnings = ["your own country's limit holds, and less is always better: ask the authority"]
    if value > 100:
        warnings.insert(0, "above the British limit of 100 micrograms and the American of 50")
    elif value > 50:
        warnings.insert(0, "above the American limit of 50 micrograms")
    elif value > 25:
        warnings.insert(0, "above the American action level of 25 micrograms: act on the dust")
    working = _working(levels, hours, value, "micrograms/m3")
    return Worked(value, "ug/m3", working, _SILICA.source, tuple(warnings))


def _work_carbon_monoxide(levels: Mapping[str, float], hours: Mapping[str, float]) -> Worked:
    value = shift_average(levels, hours)
    worst = max(levels.values())
    warnings = ["your own country's limit holds: ask the authority"]
    if worst > 200:
        warnings.insert(0, "over the ceiling of 200 ppm (NIOSH) at some task: leave, ventilate")
    if value > 20:
        warnings.insert(0, "limits run from 20 ppm (British, from memory) over 35 (NIOSH) to 50")
    working = _working(levels, hours, value, "ppm")
    return Worked(value, "ppm", working, _CARBON_MONOXIDE.source, tuple(warnings))


_HOURS = Input("hours", "hours at each task", "h", 0, 24, table=True)
_SILICA = Calculation(
    "silica-exposure",
    "Respirable silica over a shift",
    (Input("levels", "respirable silica at each task", "ug/m3", 0, 100000, table=True), _HOURS),
    "ug/m3",
    "Eight-hour average. US limit 50, action level 25: pages on the OSHA rule (read); UK 100: "
    "EH40/2005 addendum (read).",
    _work_silica,
)
_CARBON_MONOXIDE = Calculation(
    "carbon-monoxide-exposure",
    "Carbon monoxide over a shift",
    (Input("levels", "carbon monoxide at each task", "ppm", 0, 10000, table=True), _HOURS),
    "ppm",
    "Eight-hour average. NIOSH 35 ppm, ceiling 200: criteria document 1972, abstract (read).",
    _work_carbon_monoxide,
)
CALCULATIONS = (_SILICA, _CARBON_MONOXIDE)
