"""A scrap batch in plain lines: everything that the screen and the pack show, in any encoding."""

from __future__ import annotations

import io
from datetime import date

import pytest

from diagnose.batch.actions import Action
from diagnose.batch.result import Batch
from diagnose.terminal.plain.batch import WIDTH, tell_batch
from tests.batch.example import BARE, BATCH, EMPTY

TODAY = date(2026, 4, 1)
ACTIONS = [Action("bake longer", "A. Example", date(2026, 4, 3), cause="core-underbaked")]


def told(batch: Batch, encoding: str = "utf-8") -> str:
    held = io.BytesIO()
    out = io.TextIOWrapper(held, encoding=encoding)
    tell_batch(batch, ACTIONS if batch is BATCH else [], TODAY, out)
    out.flush()
    return held.getvalue().decode(encoding)


@pytest.mark.parametrize("batch", [BATCH, BARE, EMPTY], ids=["full", "bare", "empty"])
@pytest.mark.parametrize("encoding", ["utf-8", "ascii", "latin-1"])
def test_it_can_be_printed_in_any_encoding_and_fits(batch: Batch, encoding: str) -> None:
    text = told(batch, encoding)
    assert max(map(len, text.splitlines())) <= WIDTH
    assert "\x1b" not in text


def test_everything_that_matters_is_told() -> None:
    text = " ".join(told(BATCH).split())
    for part in (
        "434 castings scrapped of 8341 poured, 5.2 % (4.7 to 5.8 %)",
        "447 rows read, 441 used, 6 set aside.",
        "Faults by cost",
        "Control chart of blow from core gas",
        "seven in a row on one side",
        "3.4 times (2.5 to 4.7), by chance: 0.002",
        "0.5 to 0.6",
        "Against: They do not follow the weather (slightly)",
        "1. A. Example, by 3 April 2026: Bake longer.",
        "What it cannot say",
        "Scrap row 204: the same row stands above it",
        "“gribbly” 7 times",
        "the rules of the works and the law come first",
    ):
        assert part in text, part


def test_in_ascii_the_bars_are_letters() -> None:
    text = told(BATCH, "ascii")
    assert "####" in text
    assert "█" not in text
