"""Inputs with which every sum of the catalogue can be worked, and how a person types them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from pathlib import Path

import yaml

from diagnose.basics.quantity import STEP, convert, convert_step, fitting_units, unit_named
from diagnose.shop.calculation import Calculation, Input, Value
from diagnose.shop.catalogue import calculations

PUBLISHED = Path(__file__).parent / "shop" / "published"
SIEVES = {"30": 1.6, "40": 8.1, "50": 33.8, "70": 32.1, "100": 16.5}
OWN: Mapping[str, dict[str, Value]] = {
    "batch-make-up": {
        "batch": 100, "moisture": 2, "moisture_target": 3.5, "clay": 6, "clay_target": 7,
    },
    "addition-for": {"batch": 100, "found": 1.8, "target": 2.2, "content": 75, "recovery": 90},
    "charge-of-three": {
        "contents": {"pig": 3.8, "scrap": 3.3, "steel": 0.2},
        "others": {"pig": 2.4, "scrap": 1.8, "steel": 0.3}, "target": 3.2, "other_target": 1.9,
    },
    "clean-share": {"found": 0.3, "target": 0.12, "clean": 0.04},
    "clean-share-for-manganese": {"manganese": 0.9, "sulphur": 0.08},
    "grain-uniformity": {"retained": SIEVES},
    "median-grain": {"retained": SIEVES},
    "manganese-addition": {"batch": 100, "manganese": 0.3, "sulphur": 0.1},
    "mouldability": {"passed": 170},
    "renewal-to-hold": {"level": 8, "grown": 0.4},
    "rounds-to-reach": {"start": 8, "target": 4, "renewed": 10},
    "tap-for-mould": {"mould": 1380, "metal": 100, "minutes": 3},
    "wait-in-ladle": {"tapped": 1440, "mould": 1380, "metal": 100},
    "water-addition": {"batch": 100, "moisture": 2, "target": 3.5},
}  # fmt: skip
"""Made-up inputs of sums for which no value was published and whose ranges hang together."""


def middle(one: Input) -> Value:
    """A value well within the range of an input."""
    if one.choices:
        return one.choices[0]
    if one.default is not None:
        return one.default
    low, high = max(one.low, -1e6), min(one.high, 1e6)
    value = math.sqrt(low * high) if low > 0 else (low + high) / 2
    return {"mill": value, "shakeout": value} if one.table else value


def workable() -> Iterator[tuple[Calculation, dict[str, Value]]]:
    """Yield every sum with published inputs, or else with our own, or else with middling ones."""
    files = sorted(PUBLISHED.glob("*.yaml"))
    rows = [row for path in files for row in yaml.safe_load(path.read_text(encoding="utf-8"))]
    for name, calculation in calculations().items():
        published = [row["inputs"] for row in rows if row["calculation"] == name]
        made_up = OWN.get(name) or {one.name: middle(one) for one in calculation.inputs}
        for inputs in published or [made_up]:
            yield calculation, inputs


def typed(calculation: Calculation, inputs: Mapping[str, Value], turn: int) -> list[str]:
    """Return inputs as a person may type them, in units that fit; ``turn`` picks among these."""
    by_name = {one.name: one for one in calculation.inputs}
    return [f"{name}={_typed(by_name[name], value, turn)}" for name, value in inputs.items()]


def _typed(one: Input, value: Value, turn: int) -> str:
    if isinstance(value, str):
        return (value.upper(), f" {value}")[turn % 2]
    if isinstance(value, Mapping):
        numbers = {label: _number(one, number, turn) for label, number in value.items()}
        unit = next(unit for _, unit in numbers.values())
        parts = [f"{label}:{number}" for label, (number, _) in numbers.items()]
        return f"{(',', '; ')[turn % 2].join(parts)} {unit}"
    number, unit = _number(one, float(value), turn)
    return f"{number}{unit}" if turn % 2 else f"{number} {unit}"


def _number(one: Input, value: float, turn: int) -> tuple[str, str]:
    own = unit_named(one.unit)
    if own is None:
        return repr(value), "g" if one.unit == "g or %" else one.unit
    fitting = fitting_units(own)
    unit = fitting[turn % len(fitting)]
    turned = convert_step if own == STEP else convert
    return repr(turned(value, own, unit)), unit
