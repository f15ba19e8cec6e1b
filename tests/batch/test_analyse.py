"""From small sheets to what they come to: the rows add up, what was planted is found.

What is planted is ours: core maker B has ten times the blows of core maker A.
"""

from __future__ import annotations

import builtins
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from diagnose.basics.errors import Fault
from diagnose.batch.analyse import analyse, read, reject_for
from diagnose.batch.counted import counted_from, series_of
from diagnose.batch.result import Batch
from diagnose.batch.walk import Opened
from diagnose.rulebase.job import Job
from diagnose.session.session import Session
from tests.batch.small import POURED, Sheets, write

JOB = Job("grey iron", "green sand", None)
BLOW = "blow-core-gas"


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> Sheets:
    return write(tmp_path_factory.mktemp("shop"))


@pytest.fixture(scope="module", autouse=True)
def no_words() -> Any:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("DIAGNOSE_WORDS", "none")
        yield


@pytest.fixture(scope="module")
def made(first: Session, sheets: Sheets) -> Batch:
    return analyse(
        [sheets.scrap], first.library, job=JOB, poured=sheets.poured, readings=sheets.readings
    )


def test_every_row_is_accounted_for(made: Batch, sheets: Sheets) -> None:
    files = (sheets.scrap, sheets.poured, sheets.readings)
    rows = sum(len(path.read_text(encoding="utf-8").splitlines()) - 1 for path in files)
    assert made.rows.read == rows == made.rows.used + len(made.rows.aside)
    assert len(made.rows.aside) == 2
    assert {one.sheet for one in made.rows.aside} == {"scrap.csv"}


def test_the_pareto_is_the_sum_of_the_rows(made: Batch, sheets: Sheets) -> None:
    counted: dict[str, float] = {}
    for row in sheets.scrap.read_text(encoding="utf-8").splitlines()[1:-2]:
        *_, fault, count, _, _ = row.split(";")
        counted[fault] = counted.get(fault, 0.0) + float(count)
    assert {one.name: one.count for one in made.pareto} == pytest.approx(counted)
    assert made.scrapped == pytest.approx(sum(counted.values()))
    assert made.poured == 40 * 4 * POURED
    assert sum(one.share for one in made.pareto) == pytest.approx(1.0)
    assert [one.weight for one in made.pareto] == pytest.approx(
        [4.5 * one.count for one in made.pareto]
    )
    assert (made.first, made.last) == (date(2026, 1, 5), date(2026, 2, 13))


def test_the_planted_core_maker_stands_out(made: Batch) -> None:
    assert made.concentration[0].defect == BLOW
    assert (made.concentration[0].factor, made.concentration[0].level) == ("core maker", "B")
    assert made.concentration[0].low > 2
    assert made.concentration[0].q < 0.001
    explained = [dict(one.shares).get(BLOW, 0.0) for one in made.causes if one.area == "core"]
    assert sum(explained) > 10


def test_the_interval_holds_the_rate(made: Batch) -> None:
    assert made.rate is not None
    assert made.poured is not None
    low, high = made.rate
    assert low < made.scrapped / made.poured < high
    assert 0.005 < high - low < 0.05


def test_charts_hold_all_castings(made: Batch) -> None:
    for chart in made.charts:
        if chart.kind != "ewma":
            assert sum(point.size for point in chart.points) == pytest.approx(made.poured)
            days = [date.fromisoformat(point.at) for point in chart.points]
            assert days == sorted(days)
    assert {chart.defect for chart in made.charts} == {"", BLOW, "misrun"}


def test_without_castings_poured_shares_are_told(first: Session, sheets: Sheets) -> None:
    made = analyse([sheets.scrap], first.library, job=JOB)
    assert made.poured is None
    assert all(chart.kind in ("shares", "ewma") for chart in made.charts)
    assert {chart.defect for chart in made.charts} == {BLOW, "misrun"}
    assert made.rows.read == made.rows.used + len(made.rows.aside)


def test_a_sheet_without_a_single_reject(first: Session, tmp_path: Path) -> None:
    path = tmp_path / "none.csv"
    path.write_text("Date;Fault;Scrapped\n2026-01-05;misrun;0\n", encoding="utf-8")
    made = analyse([path], first.library, job=JOB)
    assert made.scrapped == 0.0
    assert made.charts == made.causes == ()


def test_weeks_are_taken_for_days_that_hold_too_few(
    first: Session, sheets: Sheets, tmp_path: Path
) -> None:
    data = read([sheets.scrap], first.library, poured=sheets.poured)
    points = {one.name: len(one.at) for one in series_of(counted_from(data), first.book)}
    assert points == {"all scrap": 40, "blow from core gas": 40, "misrun": 40}
    long = write(tmp_path, days=90)
    data = read([long.scrap], first.library, poured=long.poured)
    points = {one.name: len(one.at) for one in series_of(counted_from(data), first.book)}
    assert points["misrun"] == 13


def test_a_casting_is_opened_with_what_the_sheet_knows(first: Session, sheets: Sheets) -> None:
    data = read([sheets.scrap], first.library, poured=sheets.poured)
    where = (("core maker", "B"),)
    reject = reject_for(data, first.library, JOB, Opened(BLOW, where))
    assert reject.name == "blow from core gas core maker B"
    session = Session(first.library, reject)
    assert session.defects()[0].id == BLOW
    assert any("of 960 are bad" in heard.words for heard in reject.heard)
    for defect in ("unknown", "no-such-fault"):
        blank = reject_for(data, first.library, JOB, Opened(defect))
        assert blank.name == "word not known"
        assert not any(heard.kind == "called" for heard in blank.heard)
    strange = reject_for(data, first.library, JOB, Opened("chill"))
    assert Session(first.library, strange).defects()[0].id == "chill"


def test_a_library_that_lacks_is_told_in_a_line(
    first: Session, sheets: Sheets, monkeypatch: pytest.MonkeyPatch
) -> None:
    there = builtins.__import__

    def look(name: str, *rest: Any, **extra: Any) -> Any:
        if name.startswith("diagnose.batch.reading.read"):
            raise ModuleNotFoundError(f"No module named {'duckdb'!r}", name="duckdb")
        return there(name, *rest, **extra)

    monkeypatch.setattr(builtins, "__import__", look)
    with pytest.raises(Fault, match=r"pip install 'diagnose\[batch\]'"):
        analyse([sheets.scrap], first.library, job=JOB)
