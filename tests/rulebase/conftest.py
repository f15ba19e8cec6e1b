from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

HERE = Path(__file__).parent
GOOD = HERE / "good"


@pytest.fixture(autouse=True)
def cache_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache of each test's own."""
    folder = tmp_path / "cache"
    monkeypatch.setenv("DIAGNOSE_CACHE", str(folder))
    monkeypatch.delenv("DIAGNOSE_KNOWLEDGE", raising=False)
    return folder


@pytest.fixture
def good(tmp_path: Path) -> Path:
    """A copy of the small faultless book."""
    return Path(shutil.copytree(GOOD, tmp_path / "knowledge"))


@pytest.fixture
def add(good: Path) -> Callable[[str], Path]:
    """Put one more file into the small book."""

    def write(text: str, name: str = "more.yaml") -> Path:
        path = good / name
        path.write_text("# yaml-language-server: $schema=schema.json\n" + text, encoding="utf-8")
        return path

    return write
