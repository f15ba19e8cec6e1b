"""Thinning out: clean metal in a charge, and new sand round after round."""

from __future__ import annotations

import math

from diagnose.shop.calculation import Calculation, Input, OutOfRange, Worked, figure, require, steps
from diagnose.shop.elements import MANGANESE, SULPHUR
from diagnose.shop.manganese import manganese_needed

_MIXTURE = "Linear mixture: share x clean + (1 - share) x found = wanted."
_ROUNDS = (
    "Each round leaves (1 - renewed) of what was there and brings in the fresh: a geometric "
    "series, nothing grown meanwhile."
)


def clean_share(found: float, target: float, clean: float) -> float:
    """Return the share in % of clean metal in the charge that thins an element to ``target``.

    All contents in one unit. Raises OutOfRange where the clean metal holds as much as is wanted.

    >>> round(clean_share(0.035, 0.01, 0.0), 1)
    71.4
    """
    if not clean < target < found:
        raise OutOfRange(
            f"clean: {figure(clean)} cannot thin {figure(found)} to {figure(target)}; right would "
            "be less than what is wanted, and that less than what was found."
        )
    return (found - target) / (found - clean) * 100.0


def rounds_to_reach(start: float, target: float, renewed: float, fresh: float = 0.0) -> float:
    """Return the rounds of renewing ``renewed`` % after which a level reaches ``target``.

    ``fresh``: the level of what is put in. Raises OutOfRange where it is never reached.

    >>> round(rounds_to_reach(8.0, 4.0, 10.0), 2), round(rounds_to_reach(45, 55, 5, 70), 1)
    (6.58, 10.0)
    """
    left = (target - fresh) / (start - fresh) if start != fresh else 0.0
    if not 0.0 < left < 1.0:
        raise OutOfRange(
            f"target: {figure(target)} is never reached from {figure(start)} with "
            f"{figure(fresh)} put in; right would be a level between the two."
        )
    return math.log(left) / math.log1p(-renewed / 100.0)


def _work_share(found: float, target: float, clean: float) -> Worked:
    value = clean_share(found, target, clean)
    numbers = f"({figure(found)} - {figure(target)}) / ({figure(found)} - {figure(clean)}) x 100"
    lines = steps("clean share = (found - wanted) / (found - clean) x 100", numbers, value, "%")
    return Worked(value, "%", lines, _MIXTURE)


def _work_manganese(manganese: float, sulphur: float, excess: float, clean: float) -> Worked:
    target = manganese_needed(sulphur, excess)
    require(
        manganese > target,
        f"manganese: {figure(manganese)} % is not over what {figure(sulphur)} % sulphur calls for.",
    )
    value = clean_share(manganese, target, clean)
    lines = (
        f"manganese wanted = 1.7 x {figure(sulphur)} + {figure(excess)} = {figure(target)} %",
        f"= ({figure(manganese)} - {figure(target)}) / ({figure(manganese)} - {figure(clean)})"
        " x 100",
        f"= {figure(value)} %",
    )
    return Worked(value, "%", lines, _MIXTURE)


def _work_rounds(start: float, target: float, renewed: float, fresh: float) -> Worked:
    value = rounds_to_reach(start, target, renewed, fresh)
    numbers = (
        f"log(({figure(target)} - {figure(fresh)}) / ({figure(start)} - {figure(fresh)})) / "
        f"log(1 - {figure(renewed)} / 100)"
    )
    formula = "rounds = log((wanted - fresh) / (now - fresh)) / log(1 - renewed)"
    warning = "what grows in the sand meanwhile makes it longer: test once a week"
    return Worked(value, "rounds", steps(formula, numbers, value, "rounds"), _ROUNDS, (warning,))


CALCULATIONS = (
    Calculation(
        "clean-share",
        "Clean metal in the charge that thins an element out",
        (
            Input("found", "content found", "%", 0, 20),
            Input("target", "content wanted", "%", 0, 20),
            Input("clean", "content of the clean metal", "%", 0, 20, default=0),
        ),
        "%",
        _MIXTURE,
        _work_share,
    ),
    Calculation(
        "clean-share-for-manganese",
        "Clean metal in the charge that thins manganese to its sulphur",
        (
            MANGANESE,
            SULPHUR,
            Input("excess", "manganese wanted over what sulphur ties up", "%", 0, 1, default=0.3),
            Input("clean", "manganese of the clean metal", "%", 0, 2, default=0.1),
        ),
        "%",
        _MIXTURE,
        _work_manganese,
    ),
    Calculation(
        "rounds-to-reach",
        "Rounds of new sand that bring a level where it should be",
        (
            Input("start", "level now", "", 0, 1000),
            Input("target", "level wanted", "", 0, 1000),
            Input("renewed", "sand renewed each round", "%", 0.1, 50),
            Input("fresh", "level of what is put in", "", 0, 1000, default=0),
        ),
        "rounds",
        _ROUNDS,
        _work_rounds,
    ),
)
