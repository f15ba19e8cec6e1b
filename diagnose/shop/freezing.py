"""How long a section takes to freeze (Chvorinov), and how two sections compare."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps
from diagnose.shop.series import Reading, within

_SOURCE = "Chvorinov: time = constant x modulus^2; course sheets with worked examples (read)."


def freezing_time(modulus: Reading, constant: float, power: float = 2.0) -> Reading:
    """Return the freezing time in s; modulus in mm, ``constant`` of mould and metal in s/mm2.

    1 min/cm2 is 0.6 s/mm2. References: course sheet (read), 74.3 s for a modulus of 5.77 mm.

    >>> round(freezing_time(5.7692, 2.232), 1)
    74.3
    """
    within("modulus", modulus, "mm", above=True)
    within("constant", constant, "s/mm2", above=True)
    time: Reading = constant * modulus**power
    return time


def mould_constant(time: float, modulus: float, power: float = 2.0) -> float:
    """Return the constant in s/mm2 from a freezing time in s and a modulus in mm.

    References: course sheet (read), 2.232 s/mm2 from a 50 mm cube in 155 s.

    >>> round(mould_constant(155, 50 / 6), 3)
    2.232
    """
    within("time", time, "s", above=True)
    within("modulus", modulus, "mm", above=True)
    return float(time / modulus**power)


def time_ratio(modulus: Reading, other: Reading, power: float = 2.0) -> Reading:
    """Return how many times as long a section freezes as another one; moduli in mm.

    References: exam key (read), 0.5625 for a cylinder of height r against a cube of side 2r.

    >>> time_ratio(2.5, 20 / 6)
    0.5625
    """
    within("modulus", modulus, "mm", above=True)
    within("other modulus", other, "mm", above=True)
    ratio: Reading = (modulus / other) ** power
    return ratio


def _work_time(modulus: float, constant: float, power: float) -> Worked:
    value = freezing_time(modulus, constant, power)
    lines = steps(
        f"time = constant x modulus^{figure(power)}",
        f"{figure(constant)} x {figure(modulus)}^{figure(power)}",
        value,
        "s",
    )
    warnings = ("find the constant in your own sand: mould-constant",)
    return Worked(value, "s", lines, _SOURCE, warnings)


def _work_constant(time: float, modulus: float, power: float) -> Worked:
    value = mould_constant(time, modulus, power)
    lines = steps(
        f"constant = time / modulus^{figure(power)}",
        f"{figure(time)} / {figure(modulus)}^{figure(power)}",
        value,
        "s/mm2",
    )
    return Worked(value, "s/mm2", lines, _SOURCE)


def _work_ratio(modulus: float, other: float, power: float) -> Worked:
    value = time_ratio(modulus, other, power)
    lines = steps(
        f"ratio of the times = (modulus / other modulus)^{figure(power)}",
        f"({figure(modulus)} / {figure(other)})^{figure(power)}",
        value,
        "",
    )
    return Worked(value, "", lines, _SOURCE)


MODULUS: Final = Input("modulus", "volume over cooling surface", "mm", 0.3, 1000)
_OTHER = Input("other", "modulus of the other section", "mm", 0.3, 1000)
_POWER = Input("power", "power of the modulus", "", 1.5, 2.5, default=2)
CALCULATIONS = (
    Calculation(
        "freezing-time",
        "Freezing time of a section",
        (
            MODULUS,
            Input("constant", "constant of mould and metal", "s/mm2", 0.1, 20),
            _POWER,
        ),
        "s",
        _SOURCE,
        _work_time,
    ),
    Calculation(
        "mould-constant",
        "Mould constant from a freezing time",
        (Input("time", "freezing time found", "s", 0.5, 1e6), MODULUS, _POWER),
        "s/mm2",
        _SOURCE,
        _work_constant,
    ),
    Calculation(
        "freezing-ratio",
        "Freezing time beside another section",
        (MODULUS, _OTHER, _POWER),
        "",
        _SOURCE,
        _work_ratio,
    ),
)
