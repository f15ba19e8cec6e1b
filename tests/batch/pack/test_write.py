"""Writing the pack: all of it or none, and in a line what could not be written."""

from __future__ import annotations

import builtins
import io
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from diagnose.basics.errors import Fault
from diagnose.batch.pack import write
from diagnose.batch.pack.write import NO_PDF, NO_WORKBOOK, write_pack
from tests.batch.example import BATCH, EMPTY

TODAY = date(2026, 4, 1)


def without(monkeypatch: pytest.MonkeyPatch, *lacking: str) -> None:
    """Make some libraries look as if they were not installed."""
    there = builtins.__import__

    def look(name: str, *rest: Any, **extra: Any) -> Any:
        if name.partition(".")[0] in lacking:
            raise ImportError(name)
        return there(name, *rest, **extra)

    monkeypatch.setattr(builtins, "__import__", look)


def test_a_pack_is_page_pdf_minutes_and_tables(tmp_path: Path) -> None:
    written = write_pack(BATCH, [], tmp_path / "new" / "pack", TODAY)
    names = sorted(path.name.removeprefix("made-up-quarter-pack") for path in written.paths)
    if any("lacks a library" in line for line in written.lacking):
        pytest.skip(written.lacking[-1])
    assert names == [
        "-actions.csv", "-concentration.csv", "-minutes.txt", "-pareto.csv", "-readings.csv",
        "-set-aside.csv", "-unknown-words.csv", ".html", ".pdf", ".xlsx",
    ]  # fmt: skip
    assert written.lacking == ()
    assert sorted(tmp_path.glob("new/pack/*")) == sorted(written.paths)
    pages = PdfReader(io.BytesIO(next(p for p in written.paths if p.suffix == ".pdf").read_bytes()))
    text = " ".join(" ".join(page.extract_text() for page in pages.pages).split())
    assert 2 <= len(pages.pages) <= 5
    assert "Who does what by when" in text
    width, height = (float(side) for side in pages.pages[0].mediabox[2:])
    assert (round(width), round(height)) == (595, 842)


def test_without_the_extras_it_says_in_a_line_what_is_lacking(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    without(monkeypatch, "weasyprint", "openpyxl")
    written = write_pack(EMPTY, [], tmp_path, TODAY)
    assert written.lacking == (NO_WORKBOOK, NO_PDF)
    assert {path.suffix for path in written.paths} == {".html", ".csv", ".txt"}


def test_a_folder_that_cannot_be_written_to_is_told(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("", encoding="utf-8")
    with pytest.raises(Fault, match="cannot be kept in"):
        write_pack(EMPTY, [], tmp_path / "taken", TODAY)


def test_what_fails_before_writing_leaves_no_half_a_pack(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(page: str) -> bytes:
        raise MemoryError

    monkeypatch.setattr(write, "as_pdf", fail)
    with pytest.raises(MemoryError):
        write_pack(EMPTY, [], tmp_path, TODAY)
    assert list(tmp_path.iterdir()) == []
