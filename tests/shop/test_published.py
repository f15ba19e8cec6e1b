"""Every published value in ``published/*.yaml`` against the sum that should give it.

A row has: id, calculation, inputs, expect (as published, in the unit of the calculation),
tolerance (absolute), verdict, source, read (true: the source was read; false: from memory or
worked out here from a rule that was read), and a note where something has to be explained.
``agrees`` and ``rounded`` rows must come out within the tolerance. A ``wrong-as-published`` row
must NOT: its note says why, and ``right`` is the value that must come out instead.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from diagnose.shop.catalogue import calculations

FILES = sorted((Path(__file__).parent / "published").glob("*.yaml"))
ROWS: list[dict[str, Any]] = [
    row for file in FILES for row in yaml.safe_load(file.read_text(encoding="utf-8"))
]
VERDICTS = {"agrees", "rounded", "wrong-as-published"}


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_published_value(row: dict[str, Any]) -> None:
    worked = calculations()[row["calculation"]].run(**row["inputs"])
    off = abs(worked.value - row["expect"])
    if row["verdict"] == "wrong-as-published":
        assert off > row["tolerance"], f"{worked.value} repeats the slip: {row['note']}"
        assert worked.value == pytest.approx(row["right"], abs=row["tolerance"])
    else:
        assert off <= row["tolerance"], f"{worked.value} instead of {row['expect']}"


def test_rows_are_complete_and_ids_unique() -> None:
    ids = [row["id"] for row in ROWS]
    assert len(ids) == len(set(ids))
    for row in ROWS:
        assert row["verdict"] in VERDICTS, row["id"]
        assert row["tolerance"] > 0, row["id"]
        assert row["source"], row["id"]
        assert isinstance(row["read"], bool), row["id"]
        if row["verdict"] == "wrong-as-published":
            assert row["note"], row["id"]
