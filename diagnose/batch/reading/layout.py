"""Which column of a sheet holds what: as told, as kept beside the sheet, or by its heading."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from diagnose.basics.errors import Fault
from diagnose.basics.quantity import UNITS
from diagnose.batch.reading.given import NOTHING, Ask, Question, Way, in_doubt
from diagnose.batch.reading.grid import Coded, Grid
from diagnose.batch.reading.senses import CONTENT, COUNT_OF, BatchNames
from diagnose.sheets.given import listed, on_command_line
from diagnose.sheets.heading import unit_of
from diagnose.sheets.numbers import is_nothing, numbers_in
from diagnose.sheets.table import letters

MOSTLY = 0.9
"""Share of a column's different values that are numbers, from which it holds numbers."""
SEVERAL = {"fault", "remark"}
"""What more than one column may hold."""
SCRAP, POURED, READINGS = "scrap", "poured", "readings"


@dataclass(frozen=True, slots=True)
class Held:
    """One column: its heading, what it holds (``-`` for nothing) and in which unit.

    ``how``: ``told``, ``kept``, ``named``, ``alike`` (misspelt) or ``content``; empty where the
    heading is not understood.
    """

    number: int
    heading: str
    holds: str = NOTHING
    unit: str = ""
    how: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """One table of a file, with what its columns hold. ``where``: what messages call it."""

    where: str
    kind: str
    columns: tuple[Held, ...]
    grid: Grid

    def holding(self, holds: str) -> list[Held]:
        """Return the columns that hold one thing."""
        return [column for column in self.columns if column.holds == holds]

    def column(self, holds: str, *, over: bool = True) -> Coded | None:
        """Return the cells of the column that holds one thing, or None."""
        found = self.holding(holds)
        return self.grid.column(found[0].number, over) if found else None

    def counted(self) -> list[Held]:
        """Return the columns of which each counts one fault."""
        return [column for column in self.columns if column.holds.startswith(COUNT_OF)]


class Columns:
    """Makes out the columns of one table after the other; what is in doubt is asked."""

    def __init__(
        self, names: BatchNames, told: Sequence[tuple[str, str]], kept: Mapping[str, str],
        ask: Ask | None,
    ) -> None:  # fmt: skip
        self.names = names
        self.told = {heading.casefold(): holds for heading, holds in told}
        self.kept = {heading.casefold(): holds for heading, holds in kept.items()}
        self.ask = ask
        self.answers: dict[str, str] = {}
        self.met: set[str] = set()

    def page(
        self, where: str, texts: Sequence[str], units: Sequence[str], grid: Grid, as_kind: str
    ) -> Page:
        """Return a table with its columns made out. ``as_kind``: what it was given as, or empty."""
        found = [
            self._column(where, number, text, units[number], grid)
            for number, text in enumerate(texts)
            if text or self._said(number, "")
        ]
        found = self._counts(where, found, grid)
        kind = as_kind or kind_of(found, self.names)
        if kind == POURED:
            found = [*_as_poured(found)]
        found = self._once(where, found)
        return Page(where, kind, tuple(found), grid)

    def _said(self, number: int, heading: str) -> str | None:
        by_letter = f"column {letters(number)}".casefold()
        for name in (by_letter, heading.casefold()):
            if name in self.told:
                self.met.add(name)
                return self.told[name]
        return None

    def unmet(self) -> list[str]:
        """Return the headings of which something was said and that stand in no table."""
        return sorted(set(self.told) - self.met)

    def _column(self, where: str, number: int, text: str, unit: str, grid: Grid) -> Held:
        column = Held(number, text or f"column {letters(number)}")
        if (said := self._said(number, text)) is not None:
            return self._as_said(column, said, "told")
        if (kept := self.kept.get(column.heading.casefold())) is not None:
            return self._as_said(column, kept, "kept")
        sense = self.names.sense(text)
        if sense.sure == CONTENT:
            numbers = mostly_numbers(grid.column(number, False))
            return replace(column, holds="quantity" if numbers else "fault", how="content")
        if sense.sure and _unit_fits(self.names, sense.sure, sense.unit or unit):
            return replace(column, holds=sense.sure, unit=sense.unit or unit, how=sense.how)
        perhaps = [*sense.perhaps, *([sense.sure] if sense.sure else [])]
        if not perhaps or not grid.column(number, False).values:
            return column
        return self._asked(where, column, perhaps)

    def _as_said(self, column: Held, said: str, how: str) -> Held:
        if said.strip() in (NOTHING, ""):
            return replace(column, how=how)
        name, comma, last = said.rpartition(",")
        unit = unit_of(last) if comma else ""
        if comma and not unit:
            raise Fault(f"{said!r}: {last.strip()!r} is not a unit known here.")
        name = name if comma else said
        if name.startswith(COUNT_OF):
            return replace(column, holds=name, how=how)
        if name.strip().casefold() in ("count", "fault count"):
            return replace(column, holds=COUNT_OF + column.heading, how=how)
        return replace(column, holds=self.names.meaning_of(name), unit=unit, how=how)

    def _asked(self, where: str, column: Held, perhaps: Sequence[str]) -> Held:
        called = [self.names.called(holds) for holds in perhaps]
        say = f"Column {letters(column.number)} {column.heading!r} could be {listed(called, 'or')}."
        ways = tuple(
            _way(column, holds, words) for holds, words in zip(perhaps, called, strict=True)
        )
        question = Question(column.heading, say, (*ways, _way(column, NOTHING, "leave it out")))
        if self.ask is None:
            raise in_doubt(where, question)
        answer = self.ask(question)
        self.answers[column.heading] = answer
        return self._as_said(column, answer, "told")

    def _counts(self, where: str, found: list[Held], grid: Grid) -> list[Held]:
        """Ask about columns of numbers that stand among those of which each counts one fault."""
        counted = [c for c in found if c.holds.startswith(COUNT_OF)]
        text_below = [c for c in counted if not mostly_numbers(grid.column(c.number, False))]
        found = [replace(c, holds=NOTHING, how="") if c in text_below else c for c in found]
        places = [c.number for c in counted if c not in text_below]
        if len(places) < 2:
            return found
        return [
            self._asked(where, column, [COUNT_OF + column.heading])
            if not column.how and min(places) < column.number < max(places)
            and mostly_numbers(grid.column(column.number, False)) else column
            for column in found
        ]  # fmt: skip

    def _once(self, where: str, found: list[Held]) -> list[Held]:
        """Return the columns; of several that hold the same, one is chosen or all were told."""
        for holds in dict.fromkeys(c.holds for c in found):
            same = [c for c in found if c.holds == holds]
            if len(same) < 2 or holds == NOTHING or holds in SEVERAL or holds.startswith(COUNT_OF):
                continue
            if self.names.is_reading(holds):
                continue
            told = [c for c in same if c.how in ("told", "kept")]
            keep = told[0] if told else self._which(where, holds, same)
            found = [replace(c, holds=NOTHING, how="told") if c in same and c is not keep else c
                     for c in found]  # fmt: skip
        return found

    def _which(self, where: str, holds: str, same: Sequence[Held]) -> Held:
        named = listed([f"{letters(c.number)} {c.heading!r}" for c in same])
        say = f"Columns {named} could each be the {self.names.called(holds)}."
        ways = tuple(
            Way(c.heading, f"take {letters(c.number)}", _option(c, self.names.called(holds)))
            for c in same
        )
        question = Question(holds, say, ways)
        if self.ask is None:
            raise in_doubt(where, question)
        answer = self.ask(question)
        for column in same:
            self.answers[column.heading] = holds if column.heading == answer else NOTHING
        return next(c for c in same if c.heading == answer)


def kind_of(columns: Sequence[Held], names: BatchNames) -> str:
    """Return what a table is of; empty where it holds nothing of a batch."""
    held = {column.holds for column in columns}
    if "fault" in held or any(holds.startswith(COUNT_OF) for holds in held):
        return SCRAP
    if held & {"poured", "moulds"}:
        return SCRAP if held & {"quantity", "total"} else POURED
    if held & {"quantity", "total"}:
        return SCRAP
    if any(names.is_reading(holds) for holds in held):
        return READINGS
    return SCRAP if "remark" in held and "pattern" in held else ""


def mostly_numbers(column: Coded) -> bool:
    """Tell whether a column holds numbers."""
    filled = [cell for cell in column.values if not is_nothing(cell)][:1000]
    numbers = sum(bool(numbers_in(cell)[0]) for cell in filled if isinstance(cell, str | float))
    return bool(filled) and numbers >= MOSTLY * len(filled)


def _as_poured(columns: Sequence[Held]) -> Iterator[Held]:
    """Take the quantity in a sheet of castings poured for these."""
    poured = any(column.holds in ("poured", "moulds") for column in columns)
    for column in columns:
        taken = column.holds in ("quantity", "total") and not poured
        yield replace(column, holds="poured") if taken else column


def _unit_fits(names: BatchNames, holds: str, unit: str) -> bool:
    own = names.unit(holds)
    return (
        not unit
        or (not own and not names.is_reading(holds))
        or bool(own and UNITS[own].kind == UNITS[unit].kind)
    )


def _way(column: Held, holds: str, words: str) -> Way:
    return Way(holds, words, _option(column, holds if holds == NOTHING else words))


def _option(column: Held, words: str) -> str:
    name = f"column {letters(column.number)}"
    words = "count" if words.startswith("castings with ") else words
    return f"--column {on_command_line(f'{name}={words}')}"
