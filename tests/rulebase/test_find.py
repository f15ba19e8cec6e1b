from __future__ import annotations

from dataclasses import replace

import pytest

from diagnose.basics.errors import Fault
from diagnose.rulebase.book import Book
from diagnose.rulebase.find import find, lookup
from tests import shipped


@pytest.fixture(scope="module")
def book() -> Book:
    return shipped.book()


@pytest.mark.parametrize(
    ("name", "entry"),
    [
        ("sand-moisture", ("measurements", "sand-moisture")),
        ("  Moulding  Sand MOISTURE ", ("measurements", "sand-moisture")),
        ("sand too wet", ("conditions", "sand-too-wet")),
        ("top half", ("glossary", "cope")),
        ("nodular iron", ("metals", "ductile iron")),
    ],
)
def test_an_entry_by_id_name_or_synonym(book: Book, name: str, entry: tuple[str, str]) -> None:
    assert lookup(book, name) == [entry]


@pytest.mark.parametrize("section", ["conditions", "defects", "looks", "checks", "measurements"])
def test_every_entry_is_found_by_its_id_and_its_name(book: Book, section: str) -> None:
    for name, entry in getattr(book, section).items():
        assert (section, name) in lookup(book, name)
        assert lookup(book, entry.name or name)


def test_an_id_comes_before_a_name(book: Book) -> None:
    drop = replace(book.defects["drop"], also=("cope",))
    named = replace(book, defects={**book.defects, "drop": drop})
    assert lookup(named, "cope") == [("glossary", "cope")]
    other = replace(drop, also=("a wart of sand",))
    assert lookup(replace(book, defects={**book.defects, "drop": other}), "A Wart of Sand") == [
        ("defects", "drop")
    ]


def test_a_slip_is_answered_with_the_nearest(book: Book) -> None:
    with pytest.raises(Fault, match="sand-too-wet"):
        lookup(book, "sand-to-wet")
    with pytest.raises(Fault, match="book find"):
        lookup(book, "qqqq")


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("sand to wet", "sand-too-wet"),
        ("under the skin", "cavity-depth"),
        ("moisture", "sand-moisture"),
        ("core vent blocked", "core-vent-open"),
        ("silica", "silica-dust"),
        ("seacoal", "coal dust"),
    ],
)
def test_words_find_what_they_are_like(book: Book, words: str, expected: str) -> None:
    assert expected in [match.id for match in find(book, words)[:5]]


def test_the_best_come_first_and_once(book: Book) -> None:
    matches = find(book, "wet sand")
    assert [m.score for m in matches] == sorted((m.score for m in matches), reverse=True)
    assert len({(m.section, m.id) for m in matches}) == len(matches)


def test_words_like_nothing(book: Book) -> None:
    assert find(book, "qqqq") == []
    assert find(book, "") == []
