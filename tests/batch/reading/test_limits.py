"""What is bounded: words, remarks, headings, cells; and what is missing is told in one sentence."""

from __future__ import annotations

import sys
import time

import numpy as np
import pytest

from diagnose.basics.errors import Fault
from diagnose.batch.reading import counting, gather, senses
from diagnose.batch.tables.engine import engine
from tests.batch.reading.sheets import POURED, ROWS, Desk, castings


def test_without_the_batch_s_libraries_it_says_how_to_install_them(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "duckdb", None)
    with pytest.raises(Fault, match=r"\(duckdb\).*pip install 'diagnose\[batch\]'"):
        desk.read(*ROWS)


def test_the_engine_opens_no_file(desk: Desk) -> None:
    path = desk.put("a.csv", "a\n1\n")
    with engine() as running, pytest.raises(Exception, match="disabled"):
        running.raw.execute(f"select * from read_csv('{path}')")


def test_of_very_many_fault_words_only_the_most_frequent_are_made_out(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(gather, "MOST_WORDS", 1)
    data = desk.read(*ROWS)
    assert castings(data) == {"misrun": 3.0, "unknown": 4.0}
    assert any("different fault words" in text for text in data.warnings)


def test_of_very_many_remarks_only_the_most_frequent_are_heard(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(gather, "MOST_REMARKS", 1)
    rows = ("14/01/2026;P1;1;misrun;9;smooth round holes", "14/01/2026;P1;2;misrun;1;jagged hole")
    data = desk.read(*rows)
    assert [bool(one.heard.taken) for one in data.remarks] == [True, False]


def test_too_many_cells_are_counted_by_fewer_factors(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    poured = desk.put("poured.csv", POURED)
    whole = desk.read(*ROWS, poured=poured)
    monkeypatch.setattr(counting, "MOST", whole.cells.bad.size - 1)
    fewer = desk.read(*ROWS, poured=poured)
    assert "heat" in whole.cells.factors
    assert "heat" not in fewer.cells.factors
    assert any("too many levels of heat" in text for text in fewer.warnings)
    assert np.isclose(whole.cells.scrapped.sum(), fewer.cells.scrapped.sum())
    assert fewer.cells.poured is not None
    assert fewer.cells.poured.sum() == 115.0


def test_a_sheet_of_nothing_but_words_does_not_hang(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each of its texts could be a heading further down; only some are compared with all names."""
    monkeypatch.setattr(senses, "MOST_GUESSED", 30)
    rows = [f"P{n};misrun;word{n} and another{n * 7} here{n}" for n in range(800)]
    begin = time.monotonic()
    data = desk.read(*rows, head="Pattern;Fault;Remarks")
    assert time.monotonic() - begin < 90
    assert castings(data) == {"misrun": 800.0}


def test_progress_runs_from_nought_to_one(desk: Desk) -> None:
    told: list[tuple[float, str]] = []
    desk.read(*ROWS, poured=desk.put("p.csv", POURED), progress=lambda *one: told.append(one))
    shares = [share for share, _ in told]
    assert shares == sorted(shares)
    assert shares[0] == 0.0
    assert shares[-1] <= 1.0
    assert {"reading scrap.csv", "reading p.csv", "counting", "remarks"} <= {w for _, w in told}
