"""The book and the reader, once; no shop's own words enter."""

from __future__ import annotations

import pytest

from diagnose.rulebase.cache import load_compiled
from diagnose.session.library import Library
from tests.conftest import ROOT


@pytest.fixture(autouse=True)
def no_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever runs the tests may have taught words."""
    monkeypatch.setenv("DIAGNOSE_WORDS", "none")


@pytest.fixture(scope="session")
def library() -> Library:
    return Library(*load_compiled(ROOT / "knowledge"))
