"""From the rows of a scrap sheet to its lines: when, where, which fault word, how many castings.

A row is one reject, or counts them: by a column of numbers, or with a column for each fault.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from diagnose.batch.reading.account import Account, Mask, alike, totals
from diagnose.batch.reading.common import Common, Shared, common_of
from diagnose.batch.reading.counting import numbered
from diagnose.batch.reading.data import Arrays, Codes, Floats, Places
from diagnose.batch.reading.figures import Figures
from diagnose.batch.reading.given import KEEP, Given
from diagnose.batch.reading.grid import Coded
from diagnose.batch.reading.layout import Page
from diagnose.batch.reading.senses import COUNT_OF

BEYOND = 100_000
"""Castings of one row beyond which a number is a slip."""


@dataclass(slots=True)
class Part:
    """What one sheet gives: the account of its rows, and under names one value for each line.

    ``quoted``: columns of which a row is quoted that is set aside. ``poured``: castings poured.
    """

    account: Account
    quoted: Sequence[Coded]
    lines: Arrays = field(default_factory=dict)
    poured: Arrays = field(default_factory=dict)
    remarks: tuple[str, ...] = ()


def read_scrap(page: Page, shared: Shared) -> Part:
    """Return the lines of a scrap sheet, and the castings poured if it says so."""
    account = Account(page.where, page.grid)
    account.put(totals(_worded(page), len(page.grid.rows)), "a row of totals or means")
    common = common_of(page, account, shared)
    sheet = _Scrap(page, account, common, shared)
    sheet.set_aside()
    lines = sheet.lines()
    poured = sheet.poured()
    kept = account.used[lines["place"]]
    if not kept.all():
        lines = {name: values[kept] for name, values in lines.items()}
    quoted = [page.grid.column(held.number, False) for held in page.columns]
    return Part(account, quoted, lines, poured, (*common.remarks, *sheet.remarks))


def _worded(page: Page) -> Iterator[Coded]:
    """Yield the columns in which a row of totals says that it is one."""
    for held in page.columns:
        if held.holds not in ("remark", "quantity", "total") and not held.holds.startswith(
            COUNT_OF
        ):
            yield page.grid.column(held.number, False)


class _Scrap:
    """The rows of one scrap sheet as they are gone through."""

    def __init__(self, page: Page, account: Account, common: Common, shared: Shared) -> None:
        self.page = page
        self.account = account
        self.common = common
        self.shared = shared
        self.given: Given = shared.given
        self.remarks: list[str] = []
        self.size = len(page.grid.rows)
        self.words = [
            shared.words.codes(common.above(page.grid.column(held.number, True)))
            for held in page.holding("fault")
        ]
        self.remark = self._remark()
        self.counted = [
            (shared.words.code(held.holds.removeprefix(COUNT_OF)), common.figures(held))
            for held in page.counted()
        ]
        self.quantity = common.figures_of("quantity") or (
            common.figures_of("total") if not self.counted else None
        )

    def _remark(self) -> Codes:
        held = self.page.holding("remark")
        if not held:
            return np.full(self.size, -1, dtype=np.int32)
        return self.shared.remarks.codes(self.page.grid.column(held[0].number, True))

    # which rows are none

    def set_aside(self) -> None:
        """Set aside the rows that cannot be used."""
        put = self.account.put
        put(self._says_nothing(), "it says of no reject")
        put(self._nameless(), "a number beside which nothing stands: taken for a row of totals")
        for numbers in self._numbers():
            put(numbers.wrong, numbers.why)
            put(numbers.values < 0.0, "a count below nought")
            put(numbers.values > BEYOND, f"more than {BEYOND} castings in one row")
            whole = np.nan_to_num(numbers.values)
            put(whole != np.round(whole), "not a whole number of castings")
        if self.quantity is not None:
            put(np.isnan(self.quantity.values), "no number of castings")
        if self.counted:
            put(~self._any_count(), "no number of castings")
        put(self.common.days.wrong, self.common.days.why)
        self._duplicates()
        self._above_poured()

    def _numbers(self) -> list[Figures]:
        counts = [numbers for _, numbers in self.counted]
        return [*counts, *([self.quantity] if self.quantity is not None else [])]

    def _any_count(self) -> Mask:
        found = np.zeros(self.size, dtype=bool)
        for _, numbers in self.counted:
            found |= ~np.isnan(numbers.values)
        made = self.common.figures_of("poured")
        return found if made is None else np.asarray(found | ~np.isnan(made.values))

    def _worded(self) -> Mask:
        found = self.remark >= 0
        for codes in self.words:
            found |= codes >= 0
        return found

    def _says_nothing(self) -> Mask:
        if self.counted:
            wrong = np.logical_or.reduce([numbers.wrong for _, numbers in self.counted])
            return np.asarray(~self._any_count() & ~wrong)
        found = self._worded()
        if self.quantity is not None:
            found |= ~np.isnan(self.quantity.values) | self.quantity.wrong
        return ~found

    def _nameless(self) -> Mask:
        """Return rows with nothing but numbers: totals whose word was left out."""
        if self.quantity is None and not self.counted:
            return np.zeros(self.size, dtype=bool)
        return ~self._worded() & ~self.common.anything

    def _duplicates(self) -> None:
        columns = [self.page.grid.column(held.number, True) for held in self.page.columns]
        first = alike(columns)
        again = (first != np.arange(self.size)) & self.account.used
        number = self.page.column("casting number")
        counts = self.quantity is not None or bool(self.counted)
        named = number.filled if number is not None else np.full(self.size, counts)
        if self.given.duplicates:
            named = np.full(self.size, self.given.duplicates != KEEP)
        rows = self.page.grid.rows
        self.account.put(again & named, lambda n: f"the same in every cell as row {rows[first[n]]}")
        if kept := int((again & ~named & self.account.used).sum()):
            self.remarks.append(
                f"{kept} rows are the same in every cell as another. They are counted, as no "
                "casting number tells them apart; --duplicates aside sets them aside."
            )

    def _above_poured(self) -> None:
        """Set aside rows that say themselves that more was scrapped than poured."""
        made = self.common.poured
        if made is None:
            return
        self.account.put(made.wrong, made.why)
        self.account.put(made.values < 0.0, "fewer castings poured than none")
        lost = self._row_castings()
        self.account.put(lost > made.values, lambda n: (
            f"{lost[n]:g} castings scrapped of {made.values[n]:g} poured"))  # fmt: skip

    def _row_castings(self) -> Floats:
        if self.counted:
            counts = [np.nan_to_num(numbers.values) for _, numbers in self.counted]
            return np.asarray(np.sum(counts, axis=0))
        if self.quantity is not None:
            return np.nan_to_num(self.quantity.values)
        return np.ones(self.size)

    # lines

    def lines(self) -> Arrays:
        """Return a line for each row and fault word in it, also of rows set aside later."""
        parts = list(self._by_count()) if self.counted else list(self._by_word())
        parts = [part for part in parts if len(part[0])] or parts[:1]
        place, word, castings = parts[0]
        if len(parts) > 1:
            place = np.concatenate([part[0] for part in parts])
            word = np.concatenate([part[1] for part in parts])
            castings = np.concatenate([part[2] for part in parts])
            order = np.lexsort((word, place))
            place, word, castings = place[order], word[order], castings[order]
        whole = self._row_castings()[place]
        share = np.divide(castings, whole, out=np.zeros_like(castings), where=whole > 0.0)
        found = {
            "place": place, "row": self.page.grid.rows[place], "word": word, "castings": castings,
            "remark": self.remark[place],
        }  # fmt: skip
        for name in ("weight", "cost"):
            found[name] = self._amount(name)[place] * share
        return found | {name: values[place] for name, values in self.common.keys().items()}

    def _by_count(self) -> Iterator[tuple[Places, Codes, Floats]]:
        for word, numbers in self.counted:
            places = np.flatnonzero(self.account.used & (np.nan_to_num(numbers.values) > 0.0))
            yield places, np.full(len(places), word, dtype=np.int32), numbers.values[places]

    def _by_word(self) -> Iterator[tuple[Places, Codes, Floats]]:
        """Yield the lines of each column of fault words; a casting with two is shared out."""
        castings = self._row_castings()
        filled = [codes >= 0 for codes in self.words]
        several = np.sum(filled, axis=0) if filled else np.zeros(self.size)
        for codes in self.words:
            places = np.flatnonzero(self.account.used & (codes >= 0) & (castings > 0.0))
            yield places, codes[places], castings[places] / several[places]
        places = np.flatnonzero(self.account.used & (several == 0) & (castings > 0.0))
        yield places, self._from_remark(places), castings[places]

    def _from_remark(self, places: Places) -> Codes:
        """Return the words of rows without a fault word: the remark stands in for it."""
        texts = self.shared.remarks.texts
        codes = [self.shared.words.code(texts[r] if r >= 0 else "") for r in self.remark[places]]
        self.shared.instead.update(code for code, r in zip(codes, self.remark[places], strict=True)
                                   if r >= 0)  # fmt: skip
        return np.array(codes, dtype=np.int32)

    def _amount(self, name: str) -> Floats:
        """Return weight or cost of each row, nan where it is not known."""
        whole, each = self.common.figures_of(name), self.common.figures_of(f"piece {name}")
        values = np.full(self.size, np.nan)
        if each is not None:
            values = each.values * self._row_castings()
        if whole is not None:
            values = np.where(np.isnan(whole.values), values, whole.values)
        bad = int((np.nan_to_num(values) < 0.0).sum())
        if bad:
            self.remarks.append(f"{bad} rows have a {name} below nought; it is left out.")
        return np.where(values < 0.0, np.nan, values)

    # castings poured, where the scrap sheet itself has them

    def poured(self) -> Arrays:
        """Return the castings poured; rows of one day and heat say it once."""
        made = self.common.poured
        if made is None:
            return {}
        keys = self.common.keys()
        known = self.account.used & ~np.isnan(made.values)
        if not self.counted:
            known = self._once(known, made.values)
        return {name: values[known] for name, values in keys.items()} | {
            "castings": made.values[known]
        }

    def _once(self, known: Mask, values: Floats) -> Mask:
        """Return which rows count: the first of those that speak of the same pouring."""
        keys = [codes[known] for name, codes in self.common.keys().items() if name != "minute"]
        first, cell = numbered(keys)
        places = np.flatnonzero(known)
        own = places[first[cell]]
        rows = self.page.grid.rows
        differs = np.zeros(self.size, dtype=bool)
        differs[places] = values[places] != values[own]
        of = np.zeros(self.size, dtype=np.int64)
        of[places] = own
        self.account.put(differs, lambda n: (
            f"castings poured differ from those in row {rows[of[n]]}, of the same day and pattern"
        ))  # fmt: skip
        once = np.zeros(self.size, dtype=bool)
        once[np.unique(own)] = True
        return once & self.account.used
