"""Work a sum of the foundry from what somebody types: ``volume=2000cm3 height=50.8mm``."""

from __future__ import annotations

import re
from collections.abc import Iterable

from diagnose.errors import Fault
from diagnose.quantity import UNITS, read_quantity
from diagnose.rulebase.nearest import did_you_mean
from diagnose.shop.calculation import Calculation, Input, OutOfRange, Value, Worked
from diagnose.shop.catalogue import calculations

STEPS = {"K": {"K": 1.0, "degC": 1.0, "degF": 5.0 / 9.0}}
"""Units of a step of temperature, which has no zero point."""


def named(name: str) -> Calculation:
    """Return the calculation of that name; raise Fault with the nearest one."""
    known = calculations()
    wanted = "-".join(re.findall(r"[a-z0-9]+", name.lower()))
    if wanted not in known:
        raise Fault(
            f"There is no sum called {name!r}. {did_you_mean(wanted, known, 'sum')} "
            "'diagnose work' lists them all."
        )
    return known[wanted]


def inputs_from(calculation: Calculation, pairs: Iterable[str]) -> dict[str, Value]:
    """Turn ``name=value`` pairs into inputs, in the units that the calculation wants.

    Raises Fault with everything that is wrong with any of them.
    """
    by_name = {each.name: each for each in calculation.inputs}
    values: dict[str, Value] = {}
    problems: list[str] = []
    for pair in pairs:
        key, equals, text = pair.partition("=")
        name = re.sub(r"[\s-]+", "_", key.strip().lower())
        if not equals:
            problems.append(f"{pair!r} is not of the form name=value, such as height=50.8mm.")
        elif name not in by_name:
            way_out = did_you_mean(name, by_name, "input")
            problems.append(f"{calculation.name} takes no {key.strip()!r}. {way_out}")
        elif name in values:
            problems.append(f"{key.strip()!r} is given twice. Keep the right one.")
        else:
            try:
                values[name] = value_of(by_name[name], text)
            except Fault as fault:
                problems += [str(problem) for problem in fault.problems]
    if problems:
        raise Fault(*problems)
    return values


def value_of(wanted: Input, text: str) -> Value:
    """Read one input from text.

    A table is written ``label:number, label:number``; a bare number is taken where no unit fits.
    """
    if wanted.choices:
        return text.strip().lower()
    if not wanted.table:
        return _number(wanted, text, wanted.words)
    table: dict[str, float] = {}
    for part in re.split(r"[,;]\s*", text.strip().strip(",;")):
        label, colon, number = part.rpartition(":")
        if not colon or not label.strip():
            raise Fault(
                f"{wanted.words}: {part!r} is not of the form label:number, such as 50:21.4."
            )
        if label.strip() in table:
            raise Fault(f"{wanted.words}: {label.strip()!r} stands twice. Keep the right one.")
        table[label.strip()] = _number(wanted, number, f"{wanted.words}, {label.strip()}")
    return table


def _number(wanted: Input, text: str, name: str) -> float:
    unit = wanted.unit
    if unit in STEPS:
        return _step(unit, text, name)
    if unit not in UNITS:
        text = text.strip().removesuffix(unit).strip()
        return read_quantity(text, "ratio", name)[0]
    readings = read_quantity(text, unit, name)
    if len(readings) > 1:
        raise Fault(f"{name}: {text.strip()!r} is more than one number. Give one.")
    return readings[0]


def _step(unit: str, text: str, name: str) -> float:
    for other, factor in STEPS[unit].items():
        if text.strip().endswith(other):
            number = text.strip().removesuffix(other)
            return read_quantity(number, "ratio", name)[0] * factor
    raise Fault(f"{name}: {text.strip()!r} has no unit. It takes {' or '.join(STEPS[unit])}.")


def missing(calculation: Calculation, values: dict[str, Value]) -> list[Input]:
    """Return the inputs that still have to be given."""
    return [
        each for each in calculation.inputs if each.default is None and each.name not in values
    ]


def work(calculation: Calculation, values: dict[str, Value]) -> Worked:
    """Work the sum; raise Fault with everything that keeps it from being worked."""
    try:
        return calculation.run(**values)
    except OutOfRange as error:
        raise Fault(*(error.problems or (str(error),))) from None
