"""What a person said about the sheets of a batch, and what may have to be asked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from diagnose.basics.errors import Fault

NOTHING = "-"
"""Said of a column that is to be left out."""
KEEP, ASIDE = "keep", "aside"


@dataclass(frozen=True, slots=True)
class Given:
    """What was said beside what stands in the sheets, by options or in the file of the columns.

    ``columns``: heading and what it holds, a later word before an earlier. ``order``: of day and
    month, ``dmy``, ``mdy`` or ``ymd``. ``decimal``: the mark. ``carry``: whether an empty date or
    heat is that of the row above. ``sheets``: names of those to take; all that are understood if
    none. ``duplicates``: ``keep`` or ``aside``, rows that are the same in every cell. ``same``:
    factor, level as written, and the level that it is.
    """

    columns: tuple[tuple[str, str], ...] = ()
    order: str = ""
    decimal: str = ""
    carry: bool | None = None
    sheets: tuple[str, ...] = ()
    duplicates: str = ""
    same: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Way:
    """One answer to a question: as data, in words, and as the option that settles it."""

    answer: str
    words: str
    option: str


@dataclass(frozen=True, slots=True)
class Question:
    """Something about a sheet that could be so or so. ``about``: a heading, ``order``, ..."""

    about: str
    say: str
    ways: tuple[Way, ...]


Ask = Callable[[Question], str]
"""Puts a question to the person and returns one of its answers; raises Fault to stop."""
Progress = Callable[[float, str], None]
"""Told how much is done, from 0 to 1, and with what."""


def in_doubt(where: str, question: Question) -> Fault:
    """Return the fault for a question that nobody is there to answer."""
    ways = "; ".join(f"{way.option} ({way.words})" for way in question.ways)
    return Fault(f"{where}: {question.say} Say {ways}.")
