"""Which column of a table holds what, in which unit; what is in doubt is asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from diagnose.basics.errors import Fault
from diagnose.basics.quantity import UNITS
from diagnose.reasoning.taking import measurement_named
from diagnose.sheets.given import NOTHING, Choice, Doubt, Given, listed, on_command_line
from diagnose.sheets.heading import folded, unit_of
from diagnose.sheets.headrows import Headings, find_headings
from diagnose.sheets.names import KEYS, Names, Sense, other_units
from diagnose.sheets.numbers import is_nothing, numbers_in
from diagnose.sheets.table import Table, address, letters, shown

UNKNOWN, IN_DOUBT = "not understood", "not settled"
LIMITS, AS_TOLD = "limits, not readings", "left out, as you said"
"""Why nothing is made of a column."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table.

    ``means``: a measurement, a content, or what tells rows apart; empty for nothing. ``how``:
    ``named``, ``alike`` (the name misspelt) or ``told``. ``why``: why nothing is made of it.
    """

    number: int
    heading: str
    means: str = ""
    unit: str = ""
    how: str = ""
    why: str = ""

    @property
    def letters(self) -> str:
        """The letters that a spreadsheet gives it."""
        return letters(self.number)

    def cell(self, row: int) -> str:
        """Return what its cell in a row is called in a message."""
        name = f" {self.heading}" if self.heading else ""
        return f"row {row + 1}, column{name} ({address(row, self.number)})"


@dataclass(frozen=True, slots=True)
class Layout:
    """A table whose columns were gone through. ``doubts``: what has to be asked about them."""

    table: Table
    headings: Headings
    columns: tuple[Column, ...]
    doubts: tuple[Doubt, ...]

    def holding(self, *meanings: str) -> list[Column]:
        """Return the columns that hold one of these."""
        return [column for column in self.columns if column.means in meanings]

    def filled_rows(self) -> list[int]:
        """Return the rows below the headings in which anything stands."""
        first, end, again = self.headings.bottom + 1, self.headings.end, self.headings.again
        return [
            row
            for row in range(first, end)
            if row not in again and any(cell is not None for cell in self.table.rows[row])
        ]


def lay_out(table: Table, names: Names, given: Given) -> Layout:
    """Go through the columns of a table.

    Raises Fault where there are no headings, or where something said of a column cannot be.
    """
    headings = find_headings(table, names, given)
    said = _Said(names, headings, given)
    columns = [said.column(number) for number in range(len(headings.texts))]
    found = tuple(column for column in columns if column is not None)
    layout = Layout(table, headings, found, ())
    layout = replace(layout, doubts=tuple(said.doubts))
    layout = _without_doubles(layout, names, given)
    return _with_units(layout, names, given)


class _Said:
    """The headings beside what was said of them."""

    def __init__(self, names: Names, headings: Headings, given: Given) -> None:
        self.names = names
        self.headings = headings
        self.given = given
        self.doubts: list[Doubt] = []
        self._told = {name.casefold(): meaning for name, meaning in given.columns}
        known = {text.casefold() for text in headings.texts if text}
        known |= {f"column {letters(n)}".casefold() for n in range(len(headings.texts))}
        for name, _ in given.columns:
            same = [n for n, text in enumerate(headings.texts) if _same(text, name)]
            if name.casefold() not in known:
                texts = listed([f"'{shown(text)}'" for text in headings.texts if text][:12])
                raise Fault(f"No column is headed {name!r}. There are {texts}.")
            if len(same) > 1:
                by_letter = listed([f"'column {letters(n)}'" for n in same], "or")
                raise Fault(f"{len(same)} columns are headed {name!r}. Say {by_letter} instead.")

    def column(self, number: int) -> Column | None:
        """Return what is known of a column, or None for one without a heading."""
        text = self.headings.texts[number]
        told = self._told.get(f"column {letters(number)}".casefold(), self._told.get(
            text.casefold()) if text else None)  # fmt: skip
        column = Column(number, shown(text))
        if told is not None:
            return self._as_told(column, told)
        if not text:
            return None
        sense = self.names.sense(text)
        unit = sense.unit or self.headings.units[number]
        if sense.sure:
            misfit = unit and not _fits(self.names.unit(sense.sure), unit)
            if not (misfit and self.names.unit(sense.sure)):
                unit = "" if misfit else unit
                return replace(column, means=sense.sure, unit=unit, how=sense.how)
            sense = Sense(perhaps=(sense.sure,), strange=unit)
        if not sense.perhaps:
            return replace(column, why=LIMITS if sense.limit else UNKNOWN)
        self.doubts.append(self._doubt(column, sense.perhaps, sense.strange))
        return replace(column, why=IN_DOUBT)

    def _as_told(self, column: Column, told: str) -> Column:
        if told.strip() in (NOTHING, ""):
            return replace(column, why=AS_TOLD)
        name, comma, last = told.rpartition(",")
        unit = unit_of(last) if comma else ""
        if comma and not unit:
            raise Fault(f"{told!r}: {last.strip()!r} is not a unit known here.")
        meaning = self._meaning(name if comma else told)
        own = self.names.unit(meaning)
        heading_unit = self.names.sense(column.heading).unit or self.headings.units[column.number]
        unit = unit or (heading_unit if own and _fits(own, heading_unit) else "")
        if unit and not (own and _fits(own, unit)):
            fits = f"It takes {listed(other_units(own), 'or')}." if own else "It has no unit."
            raise Fault(f"{told!r}: {unit} does not fit {self.names.called(meaning)}. {fits}")
        return replace(column, means=meaning, unit=unit, how="told")

    def _meaning(self, name: str) -> str:
        words = folded(name)
        for meaning, called in KEYS.items():
            if words in map(folded, called):
                return meaning
        return measurement_named(self.names.book, name)

    def _doubt(self, column: Column, perhaps: Sequence[str], strange: str) -> Doubt:
        """Return the doubt about a column; one in a unit that does not fit can only be left out."""
        where = f"Column {column.letters} {column.heading!r}"
        called = [self.names.called(meaning) for meaning in perhaps]
        if strange:
            units = listed(other_units(self.names.unit(perhaps[0])), "or")
            say = f"{where}: {strange!r} is no unit for {called[0]}. It takes {units}."
            return Doubt(say, (self._choice(column, NOTHING, "leave the column out"),))
        say = f"{where} could be {listed(called, 'or')}."
        ways = (self._choice(column, meaning, name)
                for meaning, name in zip(perhaps, called, strict=True))  # fmt: skip
        return Doubt(say, (*ways, self._choice(column, NOTHING, "none of these, leave it out")))

    def _choice(self, column: Column, meaning: str, words: str) -> Choice:
        return told_choice(self.given, [column], [meaning], words, self.names)


def _same(text: str, name: str) -> bool:
    return text.casefold() == name.casefold()


def told_choice(
    given: Given, columns: Sequence[Column], meanings: Sequence[str], words: str, names: Names
) -> Choice:
    """Return the choice that takes each of these columns for one meaning."""
    said = [
        (f"column {column.letters}", meaning)
        for column, meaning in zip(columns, meanings, strict=True)
    ]
    option = " ".join(
        f"--column {on_command_line(f'{name}={_spoken(meaning, names)}')}" for name, meaning in said
    )
    return Choice(words, option, given.with_column(*said))


def _spoken(meaning: str, names: Names) -> str:
    return meaning if meaning == NOTHING else names.called(meaning)


def _fits(own: str, unit: str) -> bool:
    return bool(own and unit) and UNITS[own].kind == UNITS[unit].kind


def _without_doubles(layout: Layout, names: Names, given: Given) -> Layout:
    """Return the layout without the columns that hold the same as others, and doubts about them."""
    doubts = list(layout.doubts)
    columns = list(layout.columns)
    for meaning in dict.fromkeys(column.means for column in columns if column.means):
        same = [c for c in columns if c.means == meaning]
        if len(same) < 2 or all(column.how == "told" for column in same):
            continue
        kept = [c for c in same if c.how == "told"]
        columns = [
            replace(c, means="", unit="", why=IN_DOUBT) if c in same and c not in kept else c
            for c in columns
        ]
        if not kept:
            doubts.append(_double(same, meaning, names, given))
    return replace(layout, columns=tuple(columns), doubts=tuple(doubts))


def _double(same: Sequence[Column], meaning: str, names: Names, given: Given) -> Doubt:
    where = listed([f"{column.letters} {column.heading!r}" for column in same])
    say = f"Columns {where} could each be {names.called(meaning)}."
    choices = []
    for one in same:
        rest = [column for column in same if column is not one]
        meanings = [meaning, *(NOTHING for _ in rest)]
        choices.append(
            told_choice(given, [one, *rest], meanings, f"take {one.letters} alone", names)
        )
    if names.is_measured(meaning):
        words = "take all, as readings of their own"
        choices.append(told_choice(given, same, [meaning] * len(same), words, names))
    return Doubt(say, tuple(choices))


def _with_units(layout: Layout, names: Names, given: Given) -> Layout:
    """Return the layout with the units that were given, and a doubt about those still missing."""
    kinds = {UNITS[unit].kind: unit for unit in given.units}
    columns: list[Column] = []
    missing: dict[str, list[Column]] = {}
    for column in layout.columns:
        own = names.unit(column.means) if column.means else ""
        units = other_units(own) if own else []
        if column.unit or not own:
            columns.append(column)
        elif len(units) == 1 or UNITS[own].kind in kinds:
            columns.append(replace(column, unit=kinds.get(UNITS[own].kind, own)))
        else:
            bare = _bare(layout, column)
            columns.append(replace(column, means="", why=IN_DOUBT) if bare else column)
            if bare:
                missing.setdefault(own, []).append(column)
    doubts = [_unit_doubt(own, found, given) for own, found in missing.items()]
    return replace(layout, columns=tuple(columns), doubts=(*layout.doubts, *doubts))


def _bare(layout: Layout, column: Column) -> bool:
    """Tell whether numbers without a unit stand in a column."""
    cells = (layout.table.cell(row, column.number) for row in layout.filled_rows())
    return any(
        ways and not rest for ways, rest in (numbers_in(c) for c in cells if not is_nothing(c))
    )


def _unit_doubt(own: str, columns: Sequence[Column], given: Given) -> Doubt:
    where = listed([f"{column.letters} {column.heading!r}" for column in columns])
    say = f"No unit stands with column{'s' * (len(columns) > 1)} {where}."
    units = other_units(own)[:8]
    ways = (
        Choice(
            f"in {unit}",
            f"--unit {on_command_line(unit)}",
            replace(given, units=(*given.units, unit)),
        )
        for unit in units
    )
    return Doubt(say, tuple(ways))
