"""What every sum of the shop has in common: its inputs, its working, its source, its limits."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from diagnose.basics.nearest import nearest

Value = float | str | Mapping[str, float]
"""What an input takes: a number, one word of its choices, or a table of numbers by label."""


class OutOfRange(ValueError):  # noqa: N818 - says what is wrong with the reading, as the shop would
    """A reading that cannot be: names it, gives its value and unit, and what would be right.

    ``problems`` holds every fault found, one sentence each; the message is these, one a line.
    """

    def __init__(self, *problems: str) -> None:
        self.problems = problems
        super().__init__("\n".join(problems))


@dataclass(frozen=True, slots=True)
class Input:
    """One thing that a calculation has to be told.

    ``low`` and ``high`` bound the range in which the sum holds, both inclusive. An input without
    a ``default`` must be given. A ``table`` takes numbers by label (sieve: grams); where there
    are ``choices``, the value is one of these words. ``reading``: the measurement that answers
    it, by its name in the trade.
    """

    name: str
    what: str
    unit: str
    low: float = -math.inf
    high: float = math.inf
    default: float | str | None = None
    table: bool = False
    choices: tuple[str, ...] = ()
    reading: str = ""

    @property
    def words(self) -> str:
        """The name as it is spoken.

        >>> Input("cope_weight", "weight of the cope", "kg").words
        'cope weight'
        """
        return self.name.replace("_", " ")

    @property
    def range(self) -> str:
        """What would be right, in words.

        >>> Input("moisture", "water in the sand", "%", 0, 100).range
        'from 0 to 100 %'
        """
        if self.choices:
            return "one of " + ", ".join(self.choices)
        parts = []
        if self.low > -math.inf:
            parts.append(f"from {figure(self.low)}")
        if self.high < math.inf:
            parts.append(f"to {figure(self.high)}")
        return " ".join([*parts, self.unit]).strip() if parts else "any number"

    def problems(self, value: object) -> Iterable[str]:
        """Yield what is wrong with a value given for this input; nothing if it is right."""
        if self.choices:
            if value not in self.choices:
                yield f"{self.words}: {value!r} is not known; right would be {self.range}."
        elif not self.table:
            yield from self._number_problems(self.words, value)
        elif not isinstance(value, Mapping) or not value:
            yield f"{self.words}: a table is wanted, label by label ({self.what})."
        else:
            for label, number in value.items():
                yield from self._number_problems(f"{self.words}, {label}", number)

    def _number_problems(self, name: str, value: object) -> Iterable[str]:
        number = _as_number(value)
        if number is None:
            yield f"{name}: {value!r} is not a number; right would be {self.range}."
        elif not math.isfinite(number):
            yield f"{name}: {number} is not a reading; right would be {self.range}."
        elif not self.low <= number <= self.high:
            yield f"{name}: {figure(number)} {self.unit}".rstrip() + (
                f" cannot be used ({self.what}); right would be {self.range}."
            )


@dataclass(frozen=True, slots=True)
class Worked:
    """A result with its working: the formula, the same with the numbers in, and the result."""

    value: float
    unit: str
    working: tuple[str, ...]
    source: str
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Calculation:
    """A sum the shop can ask for by name, with words for every input and the source of the rule.

    ``work`` takes the inputs by name and returns the result in ``unit``.
    """

    name: str
    title: str
    inputs: tuple[Input, ...]
    unit: str
    source: str
    work: Callable[..., Worked]

    def run(self, **values: Value) -> Worked:
        """Check every input, then work the sum.

        Raises OutOfRange with all faults at once: what is missing, unknown or outside its range.
        """
        given: dict[str, object] = {each.name: each.default for each in self.inputs}
        problems = list(self._unknown(values))
        given.update((name, values[name]) for name in values if name in given)
        for each in self.inputs:
            if given[each.name] is None:
                problems.append(f"{each.words} is missing: {each.what}, {each.range}.")
            else:
                problems.extend(each.problems(given[each.name]))
        if problems:
            raise OutOfRange(*problems)
        worked = self.work(**{each.name: _plain(each, given[each.name]) for each in self.inputs})
        if not math.isfinite(worked.value):
            raise OutOfRange(f"{self.title}: these readings give no finite result.")
        return worked

    def _unknown(self, values: Mapping[str, Value]) -> Iterable[str]:
        names = [each.name for each in self.inputs]
        for name in values:
            if name not in names:
                near = nearest(name, names)
                hint = f"did you mean {near[0]}?" if near else f"it takes {', '.join(names)}."
                yield f"{name} is not an input of {self.name}; {hint}"


def figure(value: float) -> str:
    """Write a number with four significant figures, without an exponent where it can be read.

    >>> figure(52.22), figure(15243.0), figure(0.00031), figure(30.0)
    ('52.22', '15243', '0.00031', '30')
    """
    if value == 0 or not math.isfinite(value):
        return f"{value:g}"
    if abs(value) >= 1000:
        return f"{value:.0f}"
    return f"{value:.4g}"


def steps(formula: str, numbers: str, value: float, unit: str) -> tuple[str, ...]:
    """Return the three lines of a working: formula, numbers put in, result.

    >>> steps("moisture = water / moist sand x 100", "1.65 / 50 x 100", 3.3, "%")
    ('moisture = water / moist sand x 100', '= 1.65 / 50 x 100', '= 3.3 %')
    """
    return formula, f"= {numbers}", f"= {figure(value)} {unit}".rstrip()


def require(right: bool, problem: str) -> None:
    """Raise OutOfRange with ``problem`` unless ``right``."""
    if not right:
        raise OutOfRange(problem)


def _as_number(value: object) -> float | None:
    if isinstance(value, bool | str | bytes) or value is None:
        return None
    try:
        return float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError):
        return None


def _plain(each: Input, value: object) -> object:
    if each.choices:
        return value
    if isinstance(value, Mapping):
        return {str(label): float(number) for label, number in value.items()}
    return _as_number(value)
