"""Old names of answers; the small book knows ``hole-wall`` and ``hole-size``."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.rulebase.book import Book
from diagnose.rulebase.load import load
from diagnose.rulebase.renamed import now_asked, now_called
from tests import shipped

TEXT = """\
renamed:
  hole-wall=yes: hole-wall=smooth
  wall-kind=even: hole-wall=smooth
  wall-kind=torn: hole-wall=jagged
"""


@pytest.fixture
def book(good: Path, add: Callable[[str], Path]) -> Book:
    add(TEXT)
    return load(good)


def test_an_old_answer_is_called_by_its_new_name(book: Book) -> None:
    assert now_called(book, "hole-wall", "yes") == ("hole-wall", "smooth")
    assert now_called(book, "wall-kind", "torn") == ("hole-wall", "jagged")


def test_what_the_book_has_or_never_had_stays(book: Book) -> None:
    assert now_called(book, "hole-wall", "jagged") == ("hole-wall", "jagged")
    assert now_called(book, "hole-wall", "blue") == ("hole-wall", "blue")
    assert now_called(book, "nothing", "at-all") == ("nothing", "at-all")


def test_an_old_entry_alone_is_found(book: Book) -> None:
    assert now_asked(book, "wall-kind") == "hole-wall"
    assert now_asked(book, "hole-wall") == "hole-wall"
    assert now_asked(book, "nothing") == "nothing"


def test_old_names_come_back_from_the_cache(good: Path, book: Book) -> None:
    assert load(good).renamed == book.renamed
    assert len(book.renamed) == 3


def test_the_shipped_names_keep_their_entries_or_lead_to_one() -> None:
    book = shipped.book()
    assert book.renamed
    for old, new in book.renamed.items():
        entry, answer = old.split("=")
        assert "=".join(now_called(book, entry, answer)) == new
