"""From the cells of a sheet to groups: the rejects of one fault that share a signature.

A fault is one group, unless one level of a factor stands apart and a good part of the fault is
found elsewhere all the same: then what is at that level and what is elsewhere are two groups,
which may have two causes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from diagnose.batch.causes.counts import apart
from diagnose.batch.causes.group import Group, Level, Pooled, Sorting
from diagnose.batch.causes.sheet import Data, Sheet, Where
from diagnose.batch.causes.tables import Cells, counts_of, course, sorting
from diagnose.batch.causes.together import MOST_GROUPS
from diagnose.batch.result import Movement
from diagnose.rulebase.book import Book
from diagnose.session.session import hearings_of

FEWEST = 5.0
"""Rejects from which a group is made of them."""
SPLIT = 10.0
"""Bayes factor, all levels of the factor having been looked at, from which a level is parted."""
SHARE = (0.15, 0.8)
"""Shares of a fault at the level between which what is elsewhere is a group of its own."""
PARTED_BY = (
    "plate", "impression", "box", "moulder", "pourer", "machine", "shift", "core maker", "core box",
    "core batch", "sand batch", "ladle order",
)  # fmt: skip


def groups_in(
    data: Data, book: Book, movements: Sequence[Movement] = (), most: int = MOST_GROUPS
) -> tuple[Group, ...]:
    """Return the groups of a batch, the largest first, ``most`` of them at most.

    Faults that the book does not know, and those of too few rejects, make no group.
    """
    sheet = Sheet(data)
    found: list[Group] = []
    scrapped = data.scrap.bad.sum(axis=0)
    for number, fault in enumerate(data.faults):
        if fault in book.defects and scrapped[number] >= FEWEST:
            moved = tuple(one for one in movements if one.defect == fault)
            found += _of_fault(_Maker(sheet, number, moved, book.defects[fault].name))
    found = [group for group in found if group.bad >= FEWEST]
    return tuple(sorted(found, key=lambda group: -group.bad)[:most])


def group_at(
    data: Data, book: Book, fault: str, where: Where = (), movements: Sequence[Movement] = ()
) -> Group:
    """Return the rejects of a fault at some levels of factors, whether or not they stand apart.

    With ``opened.reject_of`` a reject can be opened from any cell of a table.
    """
    moved = tuple(one for one in movements if one.defect == fault)
    name = book.defects[fault].name if fault in book.defects else fault
    place = " and ".join(f"{factor} {level}" for factor, level in where)
    maker = _Maker(Sheet(data), data.faults.index(fault), moved, name)
    whole = maker.group((), "")
    return maker.group(where, f"at {place}", keep=whole) if where else whole


def _of_fault(maker: _Maker) -> Iterator[Group]:
    whole = maker.group((), "")
    parted = maker.parted(whole)
    if parted is None:
        yield whole
        return
    factor, level = parted
    where = ((factor, level.name),)
    yield maker.group(where, f"at {factor} {level.name}", keep=whole)
    yield maker.group(where, f"not at {factor} {level.name}", elsewhere=True)


class _Maker:
    """Makes the groups of one fault."""

    def __init__(self, sheet: Sheet, number: int, moved: tuple[Movement, ...], name: str) -> None:
        self.sheet, self.fault, self.moved, self.name = sheet, number, moved, name

    def group(
        self, where: Where, place: str, *, keep: Group | None = None, elsewhere: bool = False
    ) -> Group:
        """Return the group at a level, or elsewhere.

        ``keep``: all of the fault, whose sorting by the level's own factors holds for the level.
        Where the castings poured do not know the factor, all scrap stands in for them.
        """
        sheet, poured = self.sheet, self.sheet.cells
        if poured is not None and all(sheet.factor(poured, name) for name, _ in where):
            cells, rated = poured, True
        else:
            cells, rated = sheet.scrap, False
        whole = counts_of(cells, self.fault)
        mine = whole.only(sheet.mask(cells, where, elsewhere=elsewhere))
        sortings = list(self._sortings(where, elsewhere, cells))
        if keep is not None:
            its = {factor for factor, _ in where}
            own = [one for one in keep.sortings if one.factor in its]
            sortings = [*own, *(one for one in sortings if one.factor not in its)]
        rest = float(whole.size.sum() - mine.size.sum())
        return Group(
            f"{self.name} {place}".strip(),
            ((sheet.data.faults[self.fault], 1.0),),
            float(mine.bad.sum()),
            float(mine.size.sum()) if rated else None,
            tuple(sortings),
            course(mine, cells.day),
            self.moved,
            tuple(self._remarks(where, elsewhere)),
            () if elsewhere else where,
            float(whole.bad.sum() - mine.bad.sum()) / rest if keep and rated and rest else None,
        )

    def _sortings(self, where: Where, elsewhere: bool, cells: Cells) -> Iterator[Sorting]:
        """Yield the fault sorted by every factor: of these cells, or else of all scrap."""
        done: set[str] = set()
        scrap = self.sheet.scrap
        for some in (cells,) if cells is scrap else (cells, scrap):
            mask = self.sheet.mask(some, where, elsewhere=elsewhere)
            counts = counts_of(some, self.fault).only(mask)
            for factor in self.sheet.factors(some):
                if factor.name not in done:
                    done.add(factor.name)
                    found = sorting(counts, factor.name, factor.codes, factor.names)
                    if found is not None:
                        yield found

    def parted(self, whole: Group) -> tuple[str, Level] | None:
        """Return the factor and level that part the fault in two groups; None where none does."""
        best: list[tuple[float, str, Level]] = []
        for one in whole.sortings:
            for level in one.levels if one.factor in PARTED_BY else ():
                factor = apart(level, one.levels, one.spread) / len(one.levels)
                enough = min(level.bad, whole.bad - level.bad) >= FEWEST
                if factor >= SPLIT and enough and SHARE[0] <= level.bad / whole.bad <= SHARE[1]:
                    best.append((factor, one.factor, level))
        return max(best, key=lambda found: found[0])[1:] if best else None

    def _remarks(self, where: Where, elsewhere: bool) -> Iterator[Pooled]:
        """Yield what was written at the rejects of the group, each remark once with its rows."""
        data, lines = self.sheet.data, self.sheet.data.lines
        fault = data.faults[self.fault]
        share = np.array([dict(word.faults).get(fault, 0.0) for word in data.words] or [0.0])
        written = (lines.word >= 0) & (lines.remark >= 0)
        mine = written & self.sheet.mask(self.sheet.lines, where, elsewhere=elsewhere)
        rows = np.bincount(lines.remark[mine], share[lines.word[mine]])
        for remark in np.flatnonzero(rows > 0.0).tolist():
            heard = hearings_of(data.remarks[remark].heard)
            if heard:
                yield Pooled(tuple(heard), float(rows[remark]))
