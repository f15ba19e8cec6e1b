"""Which window holds for a job whose way of moulding is known, and for one of which it is not."""

from __future__ import annotations

import pytest

from diagnose.reasoning.setup import window_for
from diagnose.rulebase.book import Scope, Window
from diagnose.rulebase.job import Job
from diagnose.rulebase.reading import draft
from diagnose.session.windows.file import ShopFile, with_shop
from diagnose.shop.windows import HARDNESS, STRENGTH

BOOK = draft().book
WAYS = {
    "hand": "green sand by hand",
    "machine": "green sand by machine",
    "high-pressure": "green sand at high pressure",
}


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(
    ("reading", "sums"), [("sand-green-strength", STRENGTH), ("mould-hardness", HARDNESS)]
)
def test_the_book_and_the_sums_have_one_window_for_each_way_of_moulding(
    way: str, reading: str, sums: dict[str, tuple[float, float]]
) -> None:
    """From memory, like the windows; two figures for one limit would be worse than either."""
    window = window_for(BOOK.measurements[reading], Job("grey iron", WAYS[way], None))
    assert window is not None
    assert (window.low, window.high) == sums[way]


def test_the_way_goes_before_the_section_of_the_process_at_large() -> None:
    hardness = BOOK.measurements["mould-hardness"]
    light = window_for(hardness, Job("grey iron", "green sand at high pressure", 8.0))
    assert light is not None
    assert (light.low, light.high) == HARDNESS["high-pressure"]


def test_where_the_way_is_not_known_no_window_for_one_way_holds() -> None:
    for measurement in BOOK.measurements.values():
        window = window_for(measurement, Job("grey iron", "green sand", 20.0))
        if window is not None and window.scope is not None:
            assert not window.scope.process or "green sand" in window.scope.process


def test_the_shops_own_window_goes_before_the_books_for_one_way() -> None:
    own = Window(
        source=("own",),
        low=88.0,
        high=92.0,
        scope=Scope(metal=("grey iron",), process=("green sand",)),
    )
    book = with_shop(BOOK, ShopFile(windows={"mould-hardness": (own,)}))
    job = Job("grey iron", "green sand at high pressure", 8.0)
    window = window_for(book.measurements["mould-hardness"], job)
    assert window is not None
    assert (window.low, window.high) == (88.0, 92.0)
