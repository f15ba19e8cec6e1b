"""From the rows of a sheet of castings poured to the denominators of every rate."""

from __future__ import annotations

import numpy as np

from diagnose.batch.reading.account import Account, alike, totals
from diagnose.batch.reading.common import Shared, common_of
from diagnose.batch.reading.given import KEEP
from diagnose.batch.reading.layout import Page
from diagnose.batch.reading.scrap import Part

TELLING = ("heat", "ladle", "ladle order", "box")
"""What tells two pourings of one day apart; without any of it two rows alike may both be true."""


def read_poured(page: Page, shared: Shared) -> Part:
    """Return the castings poured, one entry a row."""
    account = Account(page.where, page.grid)
    size = len(page.grid.rows)
    numbers = {held.number for held in page.columns if held.holds in ("poured", "moulds")}
    named = [page.grid.column(h.number, False) for h in page.columns if h.number not in numbers]
    account.put(totals(named, size), "a row of totals or means")
    common = common_of(page, account, shared)
    made = common.poured
    if made is None:
        return Part(account, named, remarks=("It has no column of castings poured.",))
    empty = np.isnan(made.values)
    account.put(~common.anything & ~empty, "a number beside which nothing stands: taken for totals")
    account.put(made.wrong, made.why)
    account.put(empty, "no number of castings poured")
    account.put(np.nan_to_num(made.values) < 0.0, "a count below nought")
    account.put(common.days.wrong, common.days.why)
    remarks = list(common.remarks)
    columns = [page.grid.column(held.number, True) for held in page.columns]
    first = alike(columns)
    again = (first != np.arange(size)) & account.used
    if shared.given.duplicates != KEEP and any(name in common.factors for name in TELLING):
        rows = page.grid.rows
        account.put(again, lambda n: f"the same in every cell as row {rows[first[n]]}")
    elif again.any():
        remarks.append(f"{int(again.sum())} rows are the same as another; they are counted.")
    used = account.used
    poured = {name: values[used] for name, values in common.keys().items()}
    poured["castings"] = made.values[used]
    return Part(account, columns, {}, poured, tuple(remarks))
