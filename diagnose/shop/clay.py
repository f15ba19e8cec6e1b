"""Live clay by the methylene-blue test, and the dead clay that is left over."""

from __future__ import annotations

from typing import Final

from diagnose.shop.calculation import Calculation, Input, Worked, figure, require, steps
from diagnose.shop.series import Reading, within

DYE_STRENGTHS: Final = (3.739, 3.6)
"""Two published strengths of the dye, g/l: a works instruction and a laboratory sheet."""

_METHOD = (
    "Methylene-blue test: BCIRA Broadsheet 16-1 and a works instruction (both read); the last "
    "step follows from the calibration they describe."
)


def grams_a_millilitre(bentonite: Reading, burette: Reading) -> Reading:
    """Return the bentonite that one millilitre of dye stands for, from the shop's calibration.

    ``bentonite`` in g was weighed into clean silica sand and took ``burette`` ml; both above 0.

    >>> grams_a_millilitre(0.5, 25.0)
    0.02
    """
    within("bentonite", bentonite, "g", above=True)
    within("burette", burette, "ml", above=True)
    return bentonite / burette


def active_clay(burette: Reading, factor: float, sample: float = 5.0) -> Reading:
    """Return the live clay in per cent of the dried sand.

    ``burette`` in ml is what ``sample`` g of dried sand took, ``factor`` the grams a millilitre
    stands for. Raises OutOfRange when it comes to more than the sample.

    References: BCIRA Broadsheet 16-1 (read) for the procedure; the figures are our own:

    >>> active_clay(20.0, 0.02)
    8.0
    """
    within("burette", burette, "ml")
    within("factor", factor, "g/ml", above=True)
    within("sample", sample, "g", above=True)
    share = burette * factor / sample * 100.0
    within("live clay", share, "%", 0.0, 100.0)
    return share


def same_clay_in_other_dye(burette: Reading, strength: float, other: float) -> Reading:
    """Return the millilitres of a dye of ``other`` g/l that do the work of ``burette`` ml.

    References: the dye taken up is the same, so millilitres go inversely as the strength. Two
    published strengths differ by the factor

    >>> round(same_clay_in_other_dye(1.0, 3.739, 3.6), 3)
    1.039
    """
    within("burette", burette, "ml")
    within("strength", strength, "g/l", above=True)
    within("other strength", other, "g/l", above=True)
    return burette * strength / other


def dead_clay(washed: Reading, active: Reading) -> Reading:
    """Return AFS clay less live clay, in per cent: burnt clay, coal ash and silt.

    Raises OutOfRange when the live clay exceeds the AFS clay: one of the tests is wrong.

    >>> round(dead_clay(11.8, 8.0), 9)
    3.8
    """
    within("AFS clay", washed, "%", 0.0, 100.0)
    within("live clay", active, "%", 0.0, 100.0)
    within("AFS clay less live clay", washed - active, "%")
    return washed - active


def _work_active(burette: float, bentonite: float, calibration: float, sample: float) -> Worked:
    factor = grams_a_millilitre(bentonite, calibration)
    value = active_clay(burette, factor, sample)
    working = (
        "factor = weighed bentonite / ml it took",
        f"= {figure(bentonite)} / {figure(calibration)} = {figure(factor)} g/ml",
        *steps(
            "live clay = ml x factor / sample x 100",
            f"{figure(burette)} x {figure(factor)} / {figure(sample)} x 100",
            value,
            "%",
        ),
    )
    warnings = [
        "dyes of 3.739 and 3.6 g/l are both in use: only your own calibration, with your own "
        "clay and the same bottle of dye, gives the factor"
    ]
    if not 7 <= value <= 11:
        warnings.append("the bond equations hold for 7 to 11 % live clay")
    return Worked(value, "%", working, _METHOD, tuple(warnings))


def _work_other_dye(burette: float, strength: float, other: float) -> Worked:
    value = same_clay_in_other_dye(burette, strength, other)
    numbers = f"{figure(burette)} x {figure(strength)} / {figure(other)}"
    working = steps("ml of the other dye = ml x strength / other strength", numbers, value, "ml")
    warning = "good for comparing old readings; make a new calibration for a new bottle"
    return Worked(value, "ml", working, _OTHER_DYE.source, (warning,))


def _work_dead(washed: float, active: float) -> Worked:
    require(
        active <= washed,
        f"active: {figure(active)} % cannot be more than the AFS clay of {figure(washed)} %; "
        "right would be at most that. Repeat the washing and the titration.",
    )
    value = dead_clay(washed, active)
    numbers = f"{figure(washed)} - {figure(active)}"
    return Worked(
        value,
        "%",
        steps("dead clay = AFS clay - live clay", numbers, value, "%"),
        _DEAD.source,
        ("it drinks water without bonding; new sand is what thins it out",),
    )


_ACTIVE = Calculation(
    "active-clay",
    "Live clay by methylene blue",
    (
        Input("burette", "dye that the sand took", "ml", 0, 500),
        Input("bentonite", "bentonite weighed for the calibration", "g", 0.01, 5, default=0.5),
        Input("calibration", "dye that this bentonite took", "ml", 0.1, 500),
        Input("sample", "dried sand titrated", "g", 0.1, 50, default=5),
    ),
    "%",
    _METHOD,
    _work_active,
)
_OTHER_DYE = Calculation(
    "dye-of-another-strength",
    "Millilitres of a dye of another strength",
    (
        Input("burette", "dye that the sand took", "ml", 0, 500),
        Input("strength", "strength of that dye", "g/l", 0.5, 20, default=DYE_STRENGTHS[0]),
        Input("other", "strength of the other dye", "g/l", 0.5, 20),
    ),
    "ml",
    "Same dye taken up (exact). 3.739 g/l: works instruction; 3.6 g/l: laboratory sheet (both "
    "read).",
    _work_other_dye,
)
_DEAD = Calculation(
    "dead-clay",
    "Dead clay",
    (
        Input("washed", "AFS clay", "%", 0, 60, reading="total fines (AFS clay)"),
        Input(
            "active",
            "live clay by methylene blue",
            "%",
            0,
            60,
            reading="live clay by methylene blue",
        ),
    ),
    "%",
    "A laboratory sheet on total and active clay (read): what is washed out and is not live clay.",
    _work_dead,
)
CALCULATIONS = (_ACTIVE, _OTHER_DYE, _DEAD)
