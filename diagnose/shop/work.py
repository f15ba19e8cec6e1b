"""Work a sum of the foundry from what somebody types: ``volume=2000cm3 height=50.8mm``."""

from __future__ import annotations

import re
from collections.abc import Iterable
from contextlib import suppress
from itertools import chain

from diagnose.basics.errors import Fault
from diagnose.basics.nearest import nearest
from diagnose.basics.quantity import read_quantity, unit_named
from diagnose.shop.calculation import Calculation, Input, OutOfRange, Value, Worked, figure
from diagnose.shop.catalogue import calculations

PLAIN = "ratio"
"""What ``quantity`` calls a number without a unit."""
GRAMS_OR_SHARES = "g or %"
"""A unit of sums that only want what belongs together in one and the same unit."""
MOST = 5
ELEMENTS = {
    "c": "carbon", "si": "silicon", "p": "phosphorus", "mn": "manganese", "s": "sulphur",
    "ni": "nickel", "cr": "chromium", "mo": "molybdenum", "ti": "titanium", "al": "aluminium",
    "n": "nitrogen", "mg": "magnesium", "cu": "copper", "sn": "tin", "sulfur": "sulphur",
    "phosphorous": "phosphorus", "aluminum": "aluminium",
}  # fmt: skip
"""Chemical symbols and other spellings, and what the inputs of the sums call the elements."""


def named(name: str) -> Calculation:
    """Return the calculation of that name; raise Fault with the nearest ones."""
    known = calculations()
    words = _words(name)
    wanted = "-".join(words)
    if wanted in known:
        return known[wanted]
    few = nearest(wanted, known) or _about(words, known.values())
    way_out = f"Did you mean {' or '.join(few)}? " if few else ""
    raise Fault(f"There is no sum called {name!r}. {way_out}'diagnose work' lists them all.")


def _about(words: Iterable[str], known: Iterable[Calculation]) -> list[str]:
    """Return the first few sums in whose name or title one of the words is, or one like it."""
    spoken = {each.name: _words(f"{each.name} {each.title}") for each in known}
    meant = {near for word in words for near in nearest(word, {*chain(*spoken.values())})}
    return [name for name, said in spoken.items() if meant & {*said}][:MOST]


def matching(text: str) -> list[Calculation]:
    """Return the sums whose name, title or matter has words that begin like those typed.

    >>> [each.name for each in matching("moist dry basis")]
    ['moisture-dry-basis', 'moisture-from-dry-basis']
    """
    from diagnose.shop.matters import by_matter

    typed = _words(text)
    return [
        each
        for matter, sums in by_matter().items()
        for each in sums
        if all(
            any(word.startswith(begun) for word in _words(f"{matter} {each.name} {each.title}"))
            for begun in typed
        )
    ]


def with_unit(wanted: Input, text: str) -> str:
    """Return what was typed for an input that was asked for in its unit; that may be left out.

    >>> with_unit(Input("height", "height", "mm"), "50"), with_unit(Input("h", "", "mm"), "2 in")
    ('50 mm', '2 in')
    """
    bare = re.fullmatch(r"\s*[-+\u2212]?[\d.,]+\s*", text) and not wanted.table
    return f"{text.strip()} {wanted.unit}".strip() if bare else text.strip()


def _words(text: str) -> list[str]:
    return re.findall(r"[a-z0-9]+", text.lower())


def inputs_from(
    calculation: Calculation, pairs: Iterable[str], *, whole: bool = False
) -> dict[str, Value]:
    """Turn ``name=value`` pairs into inputs, in the units that the calculation wants.

    ``whole``: what is missing is a fault too. Raises Fault with everything that is wrong with any
    of them.
    """
    by_name = {each.name: each for each in calculation.inputs}
    values: dict[str, Value] = {}
    given: set[str] = set()
    problems: list[str] = []
    for pair in pairs:
        key, equals, text = pair.partition("=")
        name = _input_named("_".join(_words(key)), by_name)
        if not equals:
            problems.append(
                f"{pair!r} is not of the form name=value, such as height=50.8mm. Leave no space "
                "in it, or put it in quotes."
            )
        elif name not in by_name:
            like = nearest(name, by_name)
            way_out = f"Did you mean {like[0]!r}?" if like else f"It takes {', '.join(by_name)}."
            problems.append(f"{calculation.name} takes no {key.strip()!r}. {way_out}")
        elif name in given:
            problems.append(f"{key.strip()!r} is given twice. Keep the right one.")
        else:
            given.add(name)
            try:
                values[name] = value_of(by_name[name], text)
            except Fault as fault:
                problems += [str(problem) for problem in fault.problems]
    if whole:
        lacking = (each for each in missing(calculation, values) if each.name not in given)
        problems += [
            f"{each.words} is missing: {each.what}, {each.range}. Write {form(each)}."
            for each in lacking
        ]
    if problems:
        raise Fault(*problems)
    return values


def _input_named(name: str, known: Iterable[str]) -> str:
    """Return the input that a name means; an element may be given by its chemical symbol.

    >>> _input_named("si", ["carbon", "silicon"]), _input_named("c", ["moist"])
    ('silicon', 'c')
    """
    element = ELEMENTS.get(name, name)
    return element if name not in known and element in known else name


def value_of(wanted: Input, text: str) -> Value:
    """Read one input from text; raise Fault where it cannot be read or is out of its range.

    A table is written ``label:number, label:number``; a unit behind the last number serves all.

    >>> value_of(Input("hours", "hours at each task", "h", table=True), "mill:90, shakeout:30 min")
    {'mill': 1.5, 'shakeout': 0.5}
    """
    value: Value
    if wanted.choices:
        known = {tuple(_words(choice)): choice for choice in wanted.choices}
        value = known.get(tuple(_words(text)), text.strip())
    elif wanted.table:
        value = _table(wanted, text)
    else:
        value, *more = _numbers(wanted.unit, text, wanted.words)
        if more:
            raise Fault(f"{wanted.words}: {text.strip()!r} is more than one number. Give one.")
    if problems := list(wanted.problems(value)):
        raise Fault(*problems)
    return value


def _table(wanted: Input, text: str) -> dict[str, float]:
    labels, numbers = [], []
    # A comma parts two entries only where another label follows; else it is a decimal comma.
    for part in re.split(r"[,;](?=[^,;:]+:)", text.strip().strip(",;")):
        label, colon, number = part.rpartition(":")
        if not colon or not label.strip() or not number.strip():
            raise Fault(
                f"{wanted.words}: {part.strip()!r} is not of the form label:number, such as "
                f"{form(wanted)}."
            )
        if label.strip() in labels:
            raise Fault(f"{wanted.words}: {label.strip()!r} stands twice. Keep the right one.")
        labels.append(label.strip())
        numbers.append(number.strip())
    values = _numbers(wanted.unit, "; ".join(numbers), wanted.words)
    if len(values) != len(labels):
        raise Fault(f"{wanted.words}: {text.strip()!r} has more numbers than labels.")
    return dict(zip(labels, values, strict=True))


def _numbers(unit: str, text: str, name: str) -> tuple[float, ...]:
    """Read numbers in the unit of an input, which may be one that is written in another way."""
    if unit == GRAMS_OR_SHARES:
        return _grams_or_shares(text, name)
    if unit.endswith("points"):
        text, unit = re.sub(r"\bpoints?\b", "", text), unit.removesuffix("points").strip()
    return read_quantity(text, (unit_named(unit) or unit) if unit else PLAIN, name)


def _grams_or_shares(text: str, name: str) -> tuple[float, ...]:
    for unit in (PLAIN, "%", "g"):
        with suppress(Fault):
            return read_quantity(text, unit, name)
    raise Fault(f"{name}: {text.strip()!r} cannot be read. Give all of it in g, or all in %.")


def form(wanted: Input) -> str:
    """Return how an input is written on the command line.

    >>> form(Input("hours", "hours at each task", "h", table=True))
    'hours=first:...,second:...h'
    """
    if wanted.choices:
        value = wanted.choices[0]
    else:
        unit = "" if wanted.unit == GRAMS_OR_SHARES else wanted.unit
        value = f"first:...,second:...{unit}" if wanted.table else f"...{unit}"
    return f'{wanted.name}="{value}"' if " " in value else f"{wanted.name}={value}"


def missing(calculation: Calculation, values: dict[str, Value]) -> list[Input]:
    """Return the inputs that still have to be given."""
    return [each for each in calculation.inputs if each.default is None and each.name not in values]


def assumed(calculation: Calculation, values: dict[str, Value]) -> list[str]:
    """Return, in words, what is taken for the inputs that were not given."""
    return [
        f"{each.words} {default_of(each)} ({each.what})"
        for each in calculation.inputs
        if each.default is not None and each.name not in values
    ]


def default_of(wanted: Input) -> str:
    """Return what is taken for an input that is not given, with its unit.

    >>> default_of(Input("factor", "margin on the lift", "", 1, 4, 1.5))
    '1.5'
    """
    taken = wanted.default
    return f"{taken if isinstance(taken, str) else figure(taken or 0.0)} {wanted.unit}".rstrip()


def work(calculation: Calculation, values: dict[str, Value]) -> Worked:
    """Work the sum; raise Fault with everything that keeps it from being worked."""
    try:
        return calculation.run(**values)
    except OutOfRange as error:
        raise Fault(*(error.problems or (str(error),))) from None
