"""Every place in the book where one entry names another, and every figure in it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from diagnose.rulebase.book import Amount, Book, Figure, Scope, Sum
from diagnose.rulebase.yamlread import Steps

SEEN = ("looks", "measurements")
"""Where what is seen of the casting stands: in words, or with a number."""
UNWRITTEN_SOURCES = ("common practice", "from memory")
"""What may stand for a source without standing in the section of sources."""


@dataclass(frozen=True, slots=True)
class Reference:
    """An entry named by another: where (section first), in which sections it should stand.

    ``key``: the name is a key there, not a value.
    """

    steps: Steps
    name: str
    sections: tuple[str, ...]
    key: bool = False


@dataclass(frozen=True, slots=True)
class WrittenFigure:
    """A figure and where it stands; ``base_rate`` tells which words may stand for it."""

    steps: Steps
    value: Figure
    base_rate: bool = False


def references(book: Book) -> Iterator[Reference]:
    """Yield every reference from one entry to another, scopes and answers left out."""
    for name, condition in book.conditions.items():
        at: Steps = ("conditions", name)
        yield Reference((*at, "area"), condition.area, ("areas",))
        for number, link in enumerate(condition.leads_to):
            here = (*at, "leads to", number)
            yield Reference((*here, "to"), link.to, ("conditions", "defects"))
            yield from _each((*here, "needs"), link.needs, "conditions")
            yield from _sources(here, link)
        yield from _keys((*at, "shows"), condition.shows, *SEEN)
        yield from _sources(at, condition)
    for name, defect in book.defects.items():
        at = ("defects", name)
        yield from _keys((*at, "shows"), defect.shows, *SEEN)
        yield from _each((*at, "look alikes"), defect.look_alikes, "defects")
        yield from _sources(at, defect)
    for name, pair in book.pairs.items():
        yield from _each(("pairs", name, "pair"), pair.pair, "defects")
        yield from _keys(("pairs", name, "by"), pair.by, "looks")
        for by, answers in pair.by.items():
            for answer, spoken_for in answers.items():
                yield Reference(("pairs", name, "by", by, answer), spoken_for, ("defects",))
        yield from _sources(("pairs", name), pair)
    for name, look in book.looks.items():
        yield from _keys(("looks", name, "only if"), look.only_if, "looks")
        yield from _keys(("looks", name, "not if"), look.not_if, "looks")
        yield from _each(("looks", name, "same sight as"), look.same_sight, "looks")
        yield from _sources(("looks", name), look)
    yield from _from_the_shop(book)
    for name, action in book.actions.items():
        at = ("actions", name)
        yield from _each((*at, "cures"), action.cures, "conditions")
        yield from _each((*at, "invites"), action.invites, "defects")
        for number, amount in enumerate(action.worked):
            yield from _amount((*at, "worked", number), amount)
        yield from _each((*at, "caution"), action.caution, "cautions")
        yield from _sources(at, action)
    for name, signature in book.signatures.items():
        yield Reference(("signatures", name, "look"), signature.look, ("looks",))
        yield from _sources(("signatures", name), signature)
    for name, caution in book.cautions.items():
        yield from _each(("cautions", name, "areas"), caution.areas, "areas")
        yield from _sources(("cautions", name), caution)
    for name, term in book.glossary.items():
        yield from _sources(("glossary", name), term)
    yield from _sources(("scale",), book.scale)


def _from_the_shop(book: Book) -> Iterator[Reference]:
    for name, check in book.checks.items():
        at: Steps = ("checks", name)
        yield from _keys((*at, "reveals"), check.reveals, "conditions")
        yield from _each((*at, "caution"), check.caution, "cautions")
        yield from _sources(at, check)
    for name, measurement in book.measurements.items():
        at = ("measurements", name)
        yield from _keys((*at, "low speaks for"), measurement.low_speaks_for, "conditions")
        yield from _keys((*at, "high speaks for"), measurement.high_speaks_for, "conditions")
        yield from _each((*at, "caution"), measurement.caution, "cautions")
        for number, window in enumerate(measurement.windows):
            yield from _sources((*at, "windows", number), window)
        yield from _sum((*at, "worked out"), measurement.worked_out)
        yield from _each((*at, "same sight as"), measurement.same_sight, *SEEN)
        yield from _sources(at, measurement)


def _sum(steps: Steps, sum_: Sum | None) -> Iterator[Reference]:
    if sum_ is not None:
        for part in ("takes", "aims"):
            for name, measurement in getattr(sum_, part).items():
                yield Reference((*steps, part, name), measurement, ("measurements",))
        yield from _each((*steps, "replaces"), sum_.replaces, "measurements")


def _amount(steps: Steps, amount: Amount) -> Iterator[Reference]:
    for part in ("takes", "aims"):
        for name, measurement in getattr(amount, part).items():
            yield Reference((*steps, part, name), measurement, ("measurements",))
    for part in ("change", "start"):
        if name := getattr(amount, part):
            yield Reference((*steps, part), name, ("measurements",))
    yield from _sources(steps, amount)


def _each(steps: Steps, names: tuple[str, ...], *sections: str) -> Iterator[Reference]:
    for number, name in enumerate(names):
        yield Reference((*steps, number), name, sections)


def _keys(steps: Steps, names: dict[str, Any], *sections: str) -> Iterator[Reference]:
    for name in names:
        yield Reference((*steps, name), name, sections, key=True)


def _sources(steps: Steps, entry: Any) -> Iterator[Reference]:
    for number, name in enumerate(entry.source):
        if name not in UNWRITTEN_SOURCES:
            yield Reference((*steps, "source", number), name, ("sources",))


def figures(book: Book) -> Iterator[WrittenFigure]:
    """Yield every figure of the book, the scale's own left out."""
    for name, condition in book.conditions.items():
        at: Steps = ("conditions", name)
        if condition.base_rate is not None:
            yield WrittenFigure((*at, "base rate"), condition.base_rate, base_rate=True)
        for number, link in enumerate(condition.leads_to):
            yield WrittenFigure((*at, "leads to", number, "strength"), link.strength)
        yield from _tables((*at, "shows"), condition.shows)
    for name, defect in book.defects.items():
        yield WrittenFigure(("defects", name, "scrapped"), defect.scrapped)
        yield from _tables(("defects", name, "shows"), defect.shows)
    for name, look in book.looks.items():
        for answer, detail in look.answers.items():
            yield WrittenFigure(("looks", name, "answers", answer, "usual"), detail.usual)
    for name, check in book.checks.items():
        yield from _table(("checks", name, "reveals"), check.reveals)
        yield WrittenFigure(("checks", name, "false alarm"), check.false_alarm)
    for name, measurement in book.measurements.items():
        at = ("measurements", name)
        yield from _table((*at, "low speaks for"), measurement.low_speaks_for)
        yield from _table((*at, "high speaks for"), measurement.high_speaks_for)
        for name, band in measurement.bands.items():
            yield WrittenFigure((*at, "bands", name, "usual"), band.usual)


def _tables(steps: Steps, tables: dict[str, dict[str, Figure]]) -> Iterator[WrittenFigure]:
    for look, table in tables.items():
        yield from _table((*steps, look), table)


def _table(steps: Steps, table: dict[str, Figure]) -> Iterator[WrittenFigure]:
    for name, value in table.items():
        yield WrittenFigure((*steps, name), value)


def shows_tables(book: Book) -> Iterator[tuple[Steps, str, dict[str, Figure]]]:
    """Yield every table of answers of a look: where it stands, the look's id, the table."""
    for section in ("conditions", "defects"):
        for name, entry in getattr(book, section).items():
            for look, table in entry.shows.items():
                yield (section, name, "shows", look), look, table


def scopes(book: Book) -> Iterator[tuple[Steps, Scope]]:
    """Yield every scope of the book with the place where it stands."""
    for section in ("conditions", "defects", "looks", "checks", "measurements", "actions"):
        for name, entry in getattr(book, section).items():
            if entry.scope is not None:
                yield (section, name, "scope"), entry.scope
    for name, condition in book.conditions.items():
        for number, link in enumerate(condition.leads_to):
            if link.scope is not None:
                yield ("conditions", name, "leads to", number, "scope"), link.scope
    for name, measurement in book.measurements.items():
        for number, window in enumerate(measurement.windows):
            if window.scope is not None:
                yield ("measurements", name, "windows", number, "scope"), window.scope
