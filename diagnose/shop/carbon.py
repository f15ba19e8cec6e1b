"""Carbon equivalent in its named forms, and the degree of saturation."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, steps
from diagnose.shop.elements import CARBON, PHOSPHORUS, SILICON, or_none
from diagnose.shop.series import Reading, within

FORMS: Final[Mapping[str, tuple[float, float]]] = {
    "usual": (1 / 3, 1 / 3),
    "short": (1 / 3, 0.0),
    "classic": (1 / 4, 1 / 2),
}
"""Shares of silicon and of phosphorus that count as carbon, by the name of the form."""

EUTECTIC: Final = 4.3
"""Carbon equivalent of the eutectic, %; published values run from 4.2 to 4.3."""

_FORM_SOURCE = (
    "usual C + (Si + P)/3 and short C + Si/3: trade lexicon and encyclopaedia (read); "
    "classic C + Si/4 + P/2: formula pages on fluidity (read), as a liquidus measure from memory."
)
_SATURATION_SOURCE = (
    "C / (eutectic - (Si + P)/3): dictionary of mechanical engineering with 4.23 (read); 4.3 by a "
    "trade lexicon (read), 4.2 by a review of 2021 (read)."
)


def carbon_equivalent(
    carbon: Reading, silicon: Reading, phosphorus: Reading, form: str = "usual"
) -> Reading:
    """Return the carbon equivalent in % from the analysis in %.

    ``form`` is one of FORMS. Raises OutOfRange for negative contents or an unknown form.

    References: table of seven irons, "Equivalent Carbon Content - Cast Iron" (read):

    >>> round(carbon_equivalent(3.13, 1.50, 0.0, "short"), 2)
    3.63
    """
    if form not in FORMS:
        raise OutOfRange(f"form {form!r} is not known; right would be one of {', '.join(FORMS)}.")
    for name, content in (("carbon", carbon), ("silicon", silicon), ("phosphorus", phosphorus)):
        within(name, content, "%", 0, 100)
    of_silicon, of_phosphorus = FORMS[form]
    return carbon + of_silicon * silicon + of_phosphorus * phosphorus


def saturation(
    carbon: Reading, silicon: Reading, phosphorus: Reading, eutectic: float = EUTECTIC
) -> Reading:
    """Return the degree of saturation: 1 at the eutectic, below it less, beyond it more.

    Contents and ``eutectic`` (the carbon equivalent taken for the eutectic) in %. Raises OutOfRange
    when silicon and phosphorus leave no eutectic carbon.

    >>> round(saturation(3.5, 2.3, 0.1, 4.3), 6)
    1.0
    """
    for name, content in (("carbon", carbon), ("silicon", silicon), ("phosphorus", phosphorus)):
        within(name, content, "%", 0, 100)
    room = eutectic - (silicon + phosphorus) / 3
    within("eutectic carbon left by silicon and phosphorus", room, "%", above=True)
    return carbon / room


def side_of_eutectic(equivalent: float) -> tuple[str, ...]:
    """Return what to beware of on this side of the eutectic, nothing where it is plain sailing."""
    if equivalent > EUTECTIC:
        return ("past the eutectic: kish may float out in thick sections, and strength is low",)
    if equivalent >= 4.2:
        return ("published eutectic values run from 4.2 to 4.3 %: this iron may count as either",)
    return ()


def _work_equivalent(carbon: float, silicon: float, phosphorus: float, form: str) -> Worked:
    value = carbon_equivalent(carbon, silicon, phosphorus, form)
    parts = {"usual": "(Si + P)/3", "short": "Si/3", "classic": "Si/4 + P/2"}[form]
    numbers = (
        f"{figure(carbon)} + {figure(FORMS[form][0])} x {figure(silicon)}"
        f" + {figure(FORMS[form][1])} x {figure(phosphorus)}"
    )
    warnings = side_of_eutectic(value) if form != "classic" else ()
    return Worked(
        value, "%", steps(f"CE = C + {parts}", numbers, value, "%"), _FORM_SOURCE, warnings
    )


def _work_saturation(carbon: float, silicon: float, phosphorus: float, eutectic: float) -> Worked:
    value = saturation(carbon, silicon, phosphorus, eutectic)
    numbers = (
        f"{figure(carbon)} / ({figure(eutectic)} - ({figure(silicon)} + {figure(phosphorus)}) / 3)"
    )
    warnings = []
    across = [saturation(carbon, silicon, phosphorus, constant) for constant in (4.2, 4.3)]
    if min(across) <= 1 <= max(across):
        warnings.append("the constant decides here: with 4.2 to 4.3 this iron counts as either")
    return Worked(
        value,
        "",
        steps("Sc = C / (eutectic - (Si + P) / 3)", numbers, value, ""),
        _SATURATION_SOURCE,
        tuple(warnings),
    )


CALCULATIONS = (
    Calculation(
        "carbon-equivalent",
        "Carbon equivalent",
        (
            CARBON,
            SILICON,
            or_none(PHOSPHORUS),
            Input("form", "which form is wanted", "", choices=tuple(FORMS), default="usual"),
        ),
        "%",
        _FORM_SOURCE,
        _work_equivalent,
    ),
    Calculation(
        "saturation",
        "Degree of saturation",
        (
            CARBON,
            SILICON,
            or_none(PHOSPHORUS),
            Input(
                "eutectic",
                "carbon equivalent taken for the eutectic",
                "%",
                4.2,
                4.35,
                default=EUTECTIC,
            ),
        ),
        "",
        _SATURATION_SOURCE,
        _work_saturation,
    ),
)
