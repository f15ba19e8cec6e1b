"""The page of the pack in a real browser: printed on A4, on a phone's width, without a script.

Held against Debian's Chromium (package ``chromium``); where there is no browser it is not run.
"""

from __future__ import annotations

import io
from datetime import date
from pathlib import Path

import pytest
from pypdf import PdfReader

from diagnose.batch.actions import Action
from diagnose.batch.pack.page import html
from diagnose.batch.result import Batch
from tests.batch.example import BARE, BATCH
from tests.batch.pack.browser import installed, measured, printed
from tests.batch.pack.test_page import SECTIONS

pytestmark = pytest.mark.skipif(
    not installed(),
    reason="the pack was not opened in a browser: no chromium (apt-get install chromium)",
)
A4, PHONE = 794, 360
"""Pixels of 1/96 inch: 210 mm, and a small telephone."""
ACTIONS = [
    Action("bake longer", "A. Example", date(2026, 4, 3), "blow-core-gas", "core-underbaked")
]
PAGE = html(BATCH, ACTIONS, date(2026, 4, 1))


@pytest.mark.parametrize("width", [A4, PHONE])
@pytest.mark.parametrize("batch", [BATCH, BARE], ids=["full", "bare"])
def test_nothing_runs_over_the_side_and_every_section_shows(
    batch: Batch, width: int, tmp_path: Path
) -> None:
    found = measured(html(batch, ACTIONS, date(2026, 4, 1)), width, tmp_path)
    assert found["over"] <= 0, found["out"]
    assert found["out"] == []
    assert tuple(found["sections"]) == SECTIONS
    assert min(found["sections"].values()) > 20
    assert found["scripts"] == 0
    assert found["drawings"] == (9 if batch is BATCH else 1)


def test_it_prints_on_a_few_pages_of_a4(tmp_path: Path) -> None:
    page = tmp_path / "pack.html"
    page.write_text(PAGE, encoding="utf-8")
    pages = PdfReader(io.BytesIO(printed(page, tmp_path))).pages
    assert 3 <= len(pages) <= 5
    for one in pages:
        width, height = (float(side) for side in one.mediabox[2:])
        assert abs(width - 595) < 2
        assert abs(height - 842) < 2
    first = " ".join(pages[0].extract_text().split())
    assert "434 castings scrapped of 8341 poured" in first
    assert "What is scrapped" in first
    text = " ".join(" ".join(one.extract_text() for one in pages).split())
    for heading in (
        "Trend", "Where it concentrates", "Causes, with what speaks", "Who does what by when",
        "Take care", "What this means", "What was set aside", "Words not known",
    ):  # fmt: skip
        assert heading in text


def test_the_measure_sees_what_runs_over(tmp_path: Path) -> None:
    found = measured("<section id='a'><p style='width:900px'>wide</p></section>", A4, tmp_path)
    assert found["over"] > 100
    assert found["out"] == ["P"]
