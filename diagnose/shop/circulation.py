"""A sand that goes round: where its levels settle, and what has to go in to hold them."""

from __future__ import annotations

import math

from diagnose.shop.balance import (
    addition_to_hold,
    kept,
    level_after_rounds,
    renewal_to_hold,
    steady_level,
)
from diagnose.shop.calculation import Calculation, Input, Worked, figure, steps

_BALANCE = "Mass balance of a circulating sand (exact for a well-mixed system)."
_EVEN = "all the sand is taken to go round alike; sand that lies in corners lags behind"


def _settling(renewed: float, burnt: float) -> str:
    part = kept(renewed, burnt)
    if part == 0:
        return "it settles at once"
    if part == 1:
        return "nothing leaves, and nothing has to"
    return f"half of any change shows after {figure(math.log(0.5) / math.log(part))} rounds"


def _work_steady(added: float, renewed: float, burnt: float) -> Worked:
    value = steady_level(added, renewed, burnt)
    numbers = f"{figure(added)} / (1 - (1 - {figure(renewed)}/100) x (1 - {figure(burnt)}/100))"
    formula = "level = added each round / (1 - (1 - renewed) x (1 - burnt))"
    working = (*steps(formula, numbers, value, "%"), _settling(renewed, burnt))
    return Worked(value, "%", working, _BALANCE, (_EVEN,))


def _work_rounds(start: float, rounds: float, added: float, renewed: float, burnt: float) -> Worked:
    value = level_after_rounds(start, rounds, added, renewed, burnt)
    settled = steady_level(added, renewed, burnt)
    numbers = (
        f"{figure(settled)} + ({figure(start)} - {figure(settled)}) x "
        f"{figure(kept(renewed, burnt))}^{figure(rounds)}"
    )
    formula = "level = steady level + (start - steady level) x kept^rounds"
    return Worked(value, "%", steps(formula, numbers, value, "%"), _BALANCE, (_EVEN,))


def _work_hold(level: float, renewed: float, burnt: float) -> Worked:
    value = addition_to_hold(level, renewed, burnt)
    numbers = f"{figure(level)} x (1 - (1 - {figure(renewed)}/100) x (1 - {figure(burnt)}/100))"
    formula = "added each round = level x (1 - (1 - renewed) x (1 - burnt))"
    working = (
        *steps(formula, numbers, value, "% of the sand"),
        f"= {figure(value * 10)} kg a tonne of sand",
    )
    return Worked(value, "%", working, _BALANCE, (_EVEN,))


def _work_renewal(level: float, grown: float) -> Worked:
    value = renewal_to_hold(level, grown)
    formula = "renewed each round = grown each round / level x 100"
    numbers = f"{figure(grown)} / {figure(level)} x 100"
    working = (*steps(formula, numbers, value, "% of the sand"), _settling(value, 0.0))
    return Worked(value, "%", working, _BALANCE, (_EVEN,))


_RENEWED = Input("renewed", "sand replaced each round by new sand or core sand", "%", 0, 100)
_BURNT = Input("burnt", "share that the heat destroys each round", "%", 0, 100, default=0)
_STEADY = Calculation(
    "steady-level",
    "Level to which a circulating sand settles",
    (
        Input("added", "added each round, in per cent of the sand", "%", 0.001, 20),
        Input("renewed", "sand replaced each round", "%", 0.01, 100),
        _BURNT,
    ),
    "%",
    _BALANCE,
    _work_steady,
)
_ROUNDS = Calculation(
    "level-after-rounds",
    "Level after so many rounds of the sand",
    (
        Input("start", "level now", "%", 0, 60),
        Input("rounds", "rounds of the sand", "", 0, 10000),
        Input("added", "added each round, in per cent of the sand", "%", 0, 20),
        Input("renewed", "sand replaced each round", "%", 0.01, 100),
        _BURNT,
    ),
    "%",
    _BALANCE,
    _work_rounds,
)
_HOLD = Calculation(
    "addition-to-hold",
    "Addition each round that holds a level",
    (Input("level", "level to hold", "%", 0.01, 60), _RENEWED, _BURNT),
    "%",
    _BALANCE,
    _work_hold,
)
_RENEWAL = Calculation(
    "renewal-to-hold",
    "New sand each round that keeps dead clay or ash at a level",
    (
        Input("level", "level at which it may settle", "%", 0.01, 60),
        Input("grown", "what each round leaves behind, in per cent of the sand", "%", 0, 20),
    ),
    "%",
    _BALANCE,
    _work_renewal,
)
CALCULATIONS = (_STEADY, _ROUNDS, _HOLD, _RENEWAL)
