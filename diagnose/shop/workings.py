"""A sum and its working in words: the same on the command line, line by line and on the screens."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from diagnose.basics.layout import Line, Section
from diagnose.shop.calculation import Calculation, Input, Value, Worked, figure
from diagnose.shop.work import assumed


def working(calculation: Calculation, given: Mapping[str, Value], worked: Worked) -> Section:
    """Return the result over its working, what was taken for the rest, what to mind, the source.

    >>> from diagnose.shop.work import inputs_from, named, work
    >>> moisture = named("moisture")
    >>> given = inputs_from(moisture, ["moist=50g", "dry=48.35g"])
    >>> section = working(moisture, given, work(moisture, given))
    >>> section.title, section.lines[2].text
    ('Moisture of sand: 3.3 %', '= 3.3 %')
    """
    title = f"{calculation.title}: {figure(worked.value)} {worked.unit}".rstrip()
    told = [f"Not given, so taken: {text}" for text in assumed(calculation, dict(given))]
    told += [f"Mind: {warning}" for warning in worked.warnings]
    told.append(f"Source: {worked.source}")
    return Section(title, tuple(Line(text, "  ") for text in (*worked.working, *told)))


def matters_named(name: str) -> dict[str, list[Calculation]]:
    """Return the sums by matter: all without a name, none where it names no matter."""
    from diagnose.shop.matters import by_matter

    return {
        matter: sums
        for matter, sums in by_matter().items()
        if not name or name.lower() in (matter, *matter.split(" and "))
    }


def inputs_in_words(inputs: Iterable[Input]) -> Iterator[str]:
    """Yield what a sum takes: each input with its unit or choices, and what stands for it."""
    for each in inputs:
        unit = ", ".join(each.choices) or ("label:" if each.table else "") + each.unit
        default = figure(each.default) if isinstance(each.default, float | int) else each.default
        yield in_unit(each.name, unit) + (f" = {default}" if default is not None else "")


def in_unit(name: str, unit: str) -> str:
    """Return a name with its unit in brackets, if it has one.

    >>> in_unit("moisture", "%"), in_unit("vents", "")
    ('moisture [%]', 'vents')
    """
    return f"{name} [{unit}]" if unit else name
