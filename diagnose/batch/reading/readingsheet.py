"""From the rows of a sheet of shop readings to readings with their moment, heat and pattern."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from diagnose.batch.reading.account import Account, totals
from diagnose.batch.reading.common import Common, Shared, common_of
from diagnose.batch.reading.data import Arrays, Floats
from diagnose.batch.reading.given import NOTHING
from diagnose.batch.reading.layout import Held, Page, mostly_numbers
from diagnose.batch.reading.scrap import Part
from diagnose.batch.reading.senses import OWN
from diagnose.sheets.heading import folded, ways_to_take

NO_QUANTITY = {"no", "sample", "page", "row", "id", "number", "week", "year", "test"}
"""Words of headings whose numbers are no readings."""


def quantities(page: Page) -> Page:
    """Return a table of readings with its columns of numbers that the book does not know."""
    columns = []
    for held in page.columns:
        words = set(folded(held.heading).split())
        taken = held.holds == NOTHING and not held.how and not words & NO_QUANTITY
        if taken and mostly_numbers(page.grid.column(held.number, False)):
            (way, *_) = ways_to_take(held.heading)
            held = replace(held, holds=f"{OWN}{way.words or held.heading}", unit=way.unit)
        columns.append(held)
    return replace(page, columns=tuple(columns))


def read_readings(page: Page, shared: Shared) -> Part:
    """Return the readings, one entry for each cell that holds one."""
    account = Account(page.where, page.grid)
    size = len(page.grid.rows)
    measured = [h for h in page.columns if is_quantity(h, shared)]
    beside = [page.grid.column(h.number, False) for h in page.columns if h not in measured]
    account.put(totals(beside, size), "a row of totals or means")
    common = common_of(page, account, shared)
    account.put(common.days.wrong, common.days.why)
    remarks = list(common.remarks)
    any_reading = np.zeros(size, dtype=bool)
    found = []
    for held in measured:
        values, strange = _values(held, common, shared, account)
        if strange:
            remarks.append(strange)
        any_reading |= ~np.isnan(values)
        found.append((held, values))
    account.put(~any_reading, "no reading that can be used")
    parts = []
    for held, values in found:
        places = np.flatnonzero(account.used & ~np.isnan(values))
        keys = {name: codes[places] for name, codes in common.keys().items()}
        keys["value"] = values[places]
        keys["quantity"] = np.full(len(places), held.holds, dtype=object)
        parts.append(keys)
    names = ("day", "minute", "heat", "pattern", "value", "quantity")
    lines = {
        name: np.concatenate([_part(one, name) for one in parts]) if parts else np.zeros(0)
        for name in names
    }
    return Part(account, beside, lines, {}, tuple(remarks))


def is_quantity(held: Held, shared: Shared) -> bool:
    """Tell whether a column holds readings."""
    return held.holds.startswith(OWN) or shared.names.is_reading(held.holds)


def _part(keys: Arrays, name: str) -> Any:
    return keys[name] if name in keys else np.full(len(keys["value"]), -1, dtype=np.int32)


def _values(held: Held, common: Common, shared: Shared, account: Account) -> tuple[Floats, str]:
    """Return the readings of a column, and what to say of cells that are none."""
    numbers = common.figures(held)
    values = numbers.values
    wrong = numbers.wrong & account.used
    if held.holds in shared.names.book.measurements:
        least, most = shared.names.book.measurements[held.holds].possible
        with np.errstate(invalid="ignore"):
            wrong |= ((values < least) | (values > most)) & account.used
    values = np.where(wrong, np.nan, values)
    if not wrong.any():
        return values, ""
    rows = common.page.grid.rows[wrong][:5]
    listed = ", ".join(str(row) for row in rows)
    more = " and more" if wrong.sum() > len(rows) else ""
    return values, f"{held.heading}: no reading that can be in row {listed}{more}; left out."
