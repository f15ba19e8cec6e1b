"""The same expressions on DuckDB, PostgreSQL and PySpark, and beside sums in plain Python."""

from __future__ import annotations

import math
import random
from collections import defaultdict
from collections.abc import Iterator
from typing import Any

import pytest

pytest.importorskip("ibis", reason="The batch's libraries are not installed (extra batch).")

import pandas as pd

from diagnose.batch.tables import expressions
from tests.batch.tables.engines import ENGINES, duckdb

TINY = 1e-12


def made_up() -> dict[str, pd.DataFrame]:
    """A sheet with fractions, days without scrap, a level that is not known, and ties in time."""
    roll = random.Random(11).random
    scrap = [
        {
            "day": 739_000 + int(20 * roll()), "heat": int(5 * roll()),
            "pattern": int(4 * roll()) - 1,
            "minute": float(int(1440 * roll())), "word": int(6 * roll()),
            "castings": float(1 + int(3 * roll())), "weight": 40 * roll(), "cost": 9 * roll(),
        }
        for _ in range(400)
    ]  # fmt: skip
    poured = [
        {"day": day, "heat": heat, "pattern": pattern, "minute": float(60 * heat),
         "castings": 20 + int(30 * roll())}
        for day in range(739_000, 739_022) for heat in range(5) for pattern in range(-1, 3)
    ]  # fmt: skip
    words = [
        {"word": word, "fault": word % 3, "share": 0.7 if word > 3 else 1.0} for word in range(6)
    ]
    words += [{"word": word, "fault": 3, "share": 0.3} for word in (4, 5)]
    readings = [{"moment": float(int(90 * roll()) * 10), "value": roll()} for _ in range(60)]
    pourings = [{"cell": cell, "moment": float(int(100 * roll()) * 10)} for cell in range(150)]
    tables = {"scrap": scrap, "poured": poured, "words": words, "readings": readings,
              "pourings": pourings}  # fmt: skip
    return {name: pd.DataFrame(rows) for name, rows in tables.items()}


DATA = made_up()
WAYS: dict[str, Any] = {
    "bad by day": lambda t: expressions.bad(t["scrap"], t["words"], ["day"]),
    "bad by all": lambda t: expressions.bad(t["scrap"], t["words"], ["day", "heat", "pattern"]),
    "made": lambda t: expressions.made(t["poured"], ["day", "heat"]),
    "per day": lambda t: expressions.per_day(t["scrap"], t["poured"]),
    "per heat": lambda t: expressions.per_heat(t["scrap"], t["poured"]),
    "above": lambda t: expressions.above(t["scrap"], t["poured"], ["day", "heat", "pattern"]),
    "crossed": lambda t: expressions.crossed(
        t["scrap"], t["words"], t["poured"], "heat", ["pattern"]
    ),
    "before": lambda t: expressions.before(t["pourings"], t["readings"]),
    "two before": lambda t: expressions.before(t["pourings"], t["readings"], 2),
}


def answers(connection: Any) -> dict[str, list[dict[str, Any]]]:
    """Return what every expression comes to on an engine, its rows in order."""
    tables = {name: connection.create_table(name, frame) for name, frame in DATA.items()}
    return {name: in_order(way(tables).to_pandas()) for name, way in WAYS.items()}


def in_order(frame: pd.DataFrame) -> list[dict[str, Any]]:
    columns = sorted(frame.columns)
    keys = [c for c in columns if c not in ("castings", "weight", "cost", "lost", "rate", "value")]
    rows = frame[columns].to_dict("records")
    return sorted(rows, key=lambda row: [row[key] for key in [*keys, *columns]])


@pytest.fixture(scope="module")
def here() -> Iterator[dict[str, list[dict[str, Any]]]]:
    with duckdb() as connection:
        yield answers(connection)


@pytest.mark.parametrize("name", ENGINES)
def test_an_engine_says_the_same_as_duckdb(here: Any, name: str) -> None:
    """To 1e-12 of each number, after the same expressions without a change."""
    with ENGINES[name]() as connection:
        there = answers(connection)
    for way, rows in here.items():
        assert len(rows) == len(there[way]), way
        for one, other in zip(rows, there[way], strict=True):
            assert one.keys() == other.keys()
            for key, value in one.items():
                same = math.isclose(value, other[key], rel_tol=TINY, abs_tol=TINY)
                assert same or (math.isnan(value) and other[key] != other[key]), (way, one, other)


def test_expected_castings_add_up_to_those_of_the_lines(here: Any) -> None:
    """Held against sums in plain Python."""
    shares: dict[int, list[tuple[int, float]]] = defaultdict(list)
    for row in DATA["words"].to_dict("records"):
        shares[row["word"]].append((row["fault"], row["share"]))
    expected: dict[tuple[int, int], float] = defaultdict(float)
    for row in DATA["scrap"].to_dict("records"):
        for fault, share in shares[row["word"]]:
            expected[row["day"], fault] += row["castings"] * share
    found = {(row["day"], row["fault"]): row["castings"] for row in here["bad by day"]}
    assert found == pytest.approx(dict(expected), rel=TINY)
    assert sum(found.values()) == pytest.approx(DATA["scrap"]["castings"].sum())


def test_a_day_without_scrap_has_a_rate_of_nought_and_one_without_castings_none(here: Any) -> None:
    rows = {row["day"]: row for row in here["per day"]}
    assert rows[739_021]["rate"] == 0.0
    lost = DATA["scrap"].groupby("day")["castings"].sum()
    assert all(rows[day]["lost"] == count for day, count in lost.items())


def test_two_counts_are_never_divided_as_whole_numbers(here: Any) -> None:
    """The castings poured are whole numbers, which PostgreSQL would divide to nought."""
    assert all(0.0 < row["rate"] < 1.0 for row in here["per day"] if row["lost"])


@pytest.mark.parametrize("lag", [0, 2])
def test_a_pouring_has_the_reading_before_it(here: Any, lag: int) -> None:
    """Held against a search through all readings, one pouring after the other."""
    readings = sorted((r["moment"], r["value"]) for r in DATA["readings"].to_dict("records"))
    expected = {}
    for row in DATA["pourings"].to_dict("records"):
        earlier = [value for moment, value in readings if moment <= row["moment"]]
        if len(earlier) > lag:
            expected[row["cell"]] = earlier[-1 - lag]
    found = {row["cell"]: row["value"] for row in here["two before" if lag else "before"]}
    assert found == expected
