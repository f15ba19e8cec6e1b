"""A scrap batch as numbers: what was read from its sheets, ready to be counted and charted.

Codes are places in ``levels`` of a factor, -1 for not known. Days are ordinals of dates, 0 for not
known; minutes are of the day, nan for not known.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from diagnose.batch.result import Rows, UnknownWord

if TYPE_CHECKING:
    from diagnose.words.heard import Heard

Codes = NDArray[np.int32]
Floats = NDArray[np.float64]
Places = NDArray[np.intp]
Arrays = dict[str, Any]
"""Name -> an array with one value for each line."""
UNKNOWN = "unknown"
"""Stands among the faults for a word of which it is not known what it means."""


@dataclass(frozen=True, slots=True)
class Cells:
    """Castings counted by factors.

    ``codes``: cell by factor. ``minute``: the earliest. ``bad``: cell by fault, expected castings:
    a word that may be two faults is shared out. ``weight`` in kg and ``cost`` in the sheet's money:
    likewise. ``poured``: castings, good and bad; none without a sheet of them.
    """

    factors: tuple[str, ...]
    codes: Codes
    day: Codes
    minute: Floats
    bad: Floats
    weight: Floats | None = None
    cost: Floats | None = None
    poured: Floats | None = None

    @property
    def scrapped(self) -> Floats:
        """Castings scrapped in each cell, whatever the fault."""
        return np.asarray(self.bad.sum(axis=1))

    def code(self, factor: str) -> Codes:
        """Return the level of one factor in each cell."""
        return np.asarray(self.codes[:, self.factors.index(factor)])


@dataclass(frozen=True, slots=True)
class Lines:
    """What the used rows say, one entry for each row and fault word that stands in it.

    ``sheet_of``: place in ``sheets``. ``row``: as the spreadsheet numbers it. ``word`` and
    ``remark``: places in the words and remarks of the batch, -1 for none.
    """

    sheets: tuple[str, ...]
    sheet_of: Codes
    row: Codes
    factors: tuple[str, ...]
    codes: Codes
    day: Codes
    minute: Floats
    word: Codes
    remark: Codes
    castings: Floats
    weight: Floats
    cost: Floats


@dataclass(frozen=True, slots=True)
class Word:
    """A fault word of the sheet: how often it stands (in castings), and what it means.

    ``faults``: each with the probability that it is meant, adding up to 1. ``how``: ``taught``,
    ``letter``, ``slip`` (a letter wrong), ``parts``, ``reader``, ``remark`` or ``unknown``.
    """

    text: str
    count: float
    faults: tuple[tuple[str, float], ...]
    how: str


@dataclass(frozen=True, slots=True)
class Remark:
    """A remark of the sheet, how often it stands, and what was heard in it."""

    text: str
    count: float
    heard: Heard


@dataclass(frozen=True, slots=True)
class Readings:
    """Readings of the shop, one entry each.

    ``quantities``: ids of the book's measurements, or ``own:`` and the heading for what the book
    does not know. ``value``: in the unit of the quantity. ``heat`` and ``pattern``: codes.
    """

    quantities: tuple[str, ...]
    names: tuple[str, ...]
    units: tuple[str, ...]
    quantity: Codes
    value: Floats
    day: Codes
    minute: Floats
    heat: Codes
    pattern: Codes


@dataclass(frozen=True, slots=True)
class BatchData:
    """All that was read of a batch.

    ``rows``: of all sheets together; ``accounts``: sheet, what it is of, and its own rows.
    ``headings``: heading and what it was taken for. ``weighed`` and ``priced``: whether any line
    has a weight or a cost.
    """

    source: str
    rows: Rows
    faults: tuple[str, ...]
    factors: tuple[str, ...]
    levels: Mapping[str, tuple[str, ...]]
    cells: Cells
    scrap: Cells
    lines: Lines
    words: tuple[Word, ...] = ()
    remarks: tuple[Remark, ...] = ()
    readings: Readings | None = None
    unknown_words: tuple[UnknownWord, ...] = ()
    warnings: tuple[str, ...] = ()
    headings: tuple[tuple[str, str], ...] = ()
    first: date | None = None
    last: date | None = None
    weighed: bool = False
    priced: bool = False
    accounts: tuple[tuple[str, str, Rows], ...] = ()

    def reading_of(self, cells: Cells, quantity: str, lag: int = 0) -> Floats:
        """Return the reading that holds for each cell, nan where there is none.

        By heat where the readings of this quantity name heats; else the latest at or before the
        cell, or ``lag`` readings earlier.
        """
        from diagnose.batch.reading.joined import reading_of

        return reading_of(self, cells, quantity, lag)
