"""The headings of a reject file: all in the manual, and found by the words of other forms."""

from __future__ import annotations

from diagnose.session.headings import KEYS, way_out
from tests.conftest import ROOT


def test_the_page_on_files_names_every_heading() -> None:
    page = (ROOT / "docs" / "reject-file.md").read_text(encoding="utf-8")
    for key in KEYS:
        assert f"\n{key}: " in page or f"\n{key}:" in page, key


def test_words_of_other_forms_lead_to_our_headings() -> None:
    assert way_out("QTY") == "Did you mean 'bad'?"
    assert way_out("Pattern_Number") == "Did you mean 'pattern'?"
