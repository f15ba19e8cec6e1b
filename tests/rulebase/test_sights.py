"""Looks that ask after one fact."""

from __future__ import annotations

from dataclasses import replace

from diagnose.rulebase.measured import measurement_names
from diagnose.rulebase.renamed import asked
from diagnose.rulebase.sights import sights
from tests import shipped


def test_ties_hold_both_ways_and_are_handed_on() -> None:
    book = replace(shipped.book(), measurements={})
    looks = {name: replace(look, same_sight=()) for name, look in book.looks.items()}
    looks["skin"] = replace(looks["skin"], same_sight=("texture",))
    looks["rust"] = replace(looks["rust"], same_sight=("texture", "ring"))
    found = sights(replace(book, looks=looks))
    group = frozenset({"skin", "texture", "rust", "ring"})
    assert [found[name] for name in group] == [group] * 4
    assert found["grain"] == {"grain"}
    assert set(found) == set(looks)


def test_the_shipped_ties_are_between_looks_that_ask_of_the_same_metals_and_processes() -> None:
    book = shipped.book()
    for name, group in sights(book).items():
        assert name in group
        asked_of = {book.looks[other].scope for other in group & book.looks.keys()}
        assert len(asked_of) <= 1  # a reading with a narrower scope is told where it can be taken


def test_a_reading_on_the_casting_is_tied_to_the_look_that_asks_for_it_in_words() -> None:
    groups = sights(shipped.book())
    assert groups["bar-strength"] == {"bar-strength", "bar-result"}
    assert "wall-under-over-core" in groups["wall-beside-core"]
    assert "sand-moisture" not in groups


def test_what_follows_from_a_book_is_worked_out_once_for_each_book() -> None:
    book = shipped.book()
    other = replace(book, looks=dict(list(book.looks.items())[:3]))
    for work in (sights, measurement_names, asked):
        assert work(book) is work(book)
        assert work(other) is not work(book)
    assert sights(other).keys() >= other.looks.keys()
    assert other == replace(other)
