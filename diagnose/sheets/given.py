"""What a person said about a sheet, and what has still to be asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from diagnose.basics.errors import Fault
from diagnose.sheets.dates import Moment

NOTHING = "-"
"""Said of a column that is to be left out."""


@dataclass(frozen=True, slots=True)
class Given:
    """What was said about a sheet beside what stands in it.

    ``sheet``: name of the sheet of a workbook. ``header``: number of the row of headings.
    ``columns``: heading, or ``column C`` -> what it holds, with a unit behind a comma. ``units``:
    of columns without one. ``order``: of day and month. ``decimal``: the decimal mark. ``carry``:
    whether an empty date or heat is that of the row above. ``day``, ``keys`` (heat, ladle, shift
    or pattern -> which) and ``rows`` (their numbers) pick the rows; ``poured``: when the mould was.
    """

    sheet: str = ""
    header: int = 0
    columns: tuple[tuple[str, str], ...] = ()
    units: tuple[str, ...] = ()
    order: str = ""
    decimal: str = ""
    carry: bool | None = None
    day: date | None = None
    keys: tuple[tuple[str, str], ...] = ()
    rows: tuple[int, ...] = ()
    poured: Moment | None = None

    @property
    def picks(self) -> bool:
        """Whether it says which rows are meant."""
        return bool(self.day or self.keys or self.rows or self.poured)

    @property
    def only_poured(self) -> bool:
        """Whether rows are picked by nothing but the moment of pouring."""
        return self.poured is not None and not (self.day or self.keys or self.rows)

    def with_column(self, *said: tuple[str, str]) -> Given:
        """Return the same with more said about columns; a later word goes before an earlier."""
        names = {name.casefold() for name, _ in said}
        kept = (one for one in self.columns if one[0].casefold() not in names)
        return replace(self, columns=(*kept, *said))


@dataclass(frozen=True, slots=True)
class Choice:
    """One way out of a doubt: in words, as an option of the command, and what is known then."""

    words: str
    option: str
    given: Given


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something that could be read in several ways: it is asked, and never guessed."""

    say: str
    choices: tuple[Choice, ...]

    def lines(self) -> list[str]:
        """Return the doubt and the options that settle it, for where nobody can be asked."""
        return [self.say, *(f"{choice.option}: {choice.words}" for choice in self.choices)]


class InDoubt(Fault):
    """Raised where nothing can be read before a doubt is settled."""

    def __init__(self, doubt: Doubt) -> None:
        self.doubt = doubt
        said = "; ".join(f"{choice.option} ({choice.words})" for choice in doubt.choices)
        super().__init__(f"{doubt.say} Say {said}.")


def on_command_line(text: str) -> str:
    """Return a text as a word of the command line.

    >>> on_command_line("moisture"), on_command_line("Temp F=sand temperature")
    ('moisture', "'Temp F=sand temperature'")
    """
    from shlex import quote

    return quote(text)


def listed(words: Sequence[str], last: str = "and") -> str:
    """Return words joined by commas and a last word.

    >>> listed(["C", "D", "F"]), listed(["a", "b"], "or")
    ('C, D and F', 'a or b')
    """
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"
