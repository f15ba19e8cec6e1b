"""A sum that cannot be worked: its name, its inputs or their units do not fit.

Passes: ``worked out: {by: carbon-equivalent, takes: {carbon: carbon, silicon: silicon}}``.
Fails:  a sum that ``diagnose work`` does not list; an input that it does not take; an input left
out that it cannot do without; a measurement whose unit cannot be turned into the input's.
"""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.basics.quantity import UNITS
from diagnose.rulebase.book import Amount, Sum
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.yamlread import Steps


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for everything that keeps a sum from being worked."""
    for name, reading in draft.book.measurements.items():
        if reading.worked_out is not None:
            steps = ("measurements", name, "worked out")
            yield from _sum(draft, steps, reading.worked_out, reading.unit)
    for name, action in draft.book.actions.items():
        for number, amount in enumerate(action.worked):
            if amount.by:
                yield from _sum(draft, ("actions", name, "worked", number), amount, "")


def _sum(draft: Draft, steps: Steps, sum_: Sum | Amount, unit: str) -> Iterator[Problem]:
    from diagnose.shop.catalogue import calculations

    known = calculations()
    if sum_.by not in known:
        what = f"No sum is called {sum_.by!r}."
        yield draft.problem((*steps, "by"), what, did_you_mean(sum_.by, known, "sum"))
        return
    calculation = known[sum_.by]
    if unit and not _fits(calculation.unit, unit):
        what = f"{sum_.by!r} gives {calculation.unit}, not {unit}."
        yield draft.problem((*steps, "by"), what, "Change the unit, or take another sum.")
    inputs = {each.name: each for each in calculation.inputs}
    for part in ("takes", "given", "aims"):
        for name in getattr(sum_, part):
            if name not in inputs:
                what = f"{sum_.by!r} takes no {name!r}."
                instead = did_you_mean(name, inputs, "input")
                yield draft.problem((*steps, part, name), what, instead, key=True)
    for name, measurement in [*sum_.takes.items(), *sum_.aims.items()]:
        entry = draft.book.measurements.get(measurement)
        if name in inputs and entry is not None and not _fits(entry.unit, inputs[name].unit):
            what = f"{measurement!r} is in {entry.unit}, but {name!r} wants {inputs[name].unit}."
            yield draft.problem((*steps, "takes", name), what, "Take another measurement.")
    given = {*sum_.takes, *sum_.given, *sum_.aims}
    for name, wanted in inputs.items():
        if wanted.default is None and name not in given:
            what = f"{sum_.by!r} cannot do without {name!r} ({wanted.what})."
            yield draft.problem(steps, what, "Add it under 'takes' or 'given'.", key=True)


def _fits(unit: str, wanted: str) -> bool:
    if wanted in ("", unit):  # an input without a unit takes any figure as it is
        return True
    return unit in UNITS and wanted in UNITS and UNITS[unit].kind == UNITS[wanted].kind
