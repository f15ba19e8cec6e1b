"""Sayings by the letter, and those that the weights were not trained with."""

from __future__ import annotations

from dataclasses import replace

import pytest

from diagnose.rulebase.book import Book
from diagnose.rulebase.sayings import sayings_of
from diagnose.words.model import Model
from diagnose.words.sayings import (
    SayingsIndex,
    by_the_letter,
    folded,
    sayings_arrays,
    unlearned,
)


def test_a_saying_is_found_whatever_the_capitals_and_stops(book: Book) -> None:
    table = by_the_letter(book)
    for kind, name, answer, text in list(sayings_of(book))[::50]:
        meaning = f"called={name}" if kind == "called" else f"{name}={answer}"
        assert (
            meaning in table[folded(f"It was the {text.upper()}.")]
            or meaning in table[folded(text)]
        )


def test_only_what_is_new_is_unlearned(book: Book, model: Model) -> None:
    before = unlearned(book, model.learned.tolist())
    look = book.looks["cavity-wall"]
    smooth = replace(look.answers["smooth"], words=(*look.answers["smooth"].words, "like a plum"))
    answers = {**look.answers, "smooth": smooth}
    looks = {**book.looks, "cavity-wall": replace(look, answers=answers)}
    after = unlearned(replace(book, looks=looks), model.learned.tolist())
    assert {*after} - {*before} == {("cavity-wall=smooth", "like a plum")}
    assert len(before) < 0.04 * sum(1 for _ in sayings_of(book))


def test_the_index_says_what_the_table_says(book: Book, model: Model) -> None:
    index = SayingsIndex(sayings_arrays(book, model.learned.tolist()))
    table = by_the_letter(book)
    assert {said: index.meanings(said) for said in table} == table
    for said in ("", "no saying of anybody", *(f"{said} x" for said in list(table)[:500])):
        assert index.meanings(said) == table.get(said, [])
    assert {word for said in table for word in said.split()} <= {*index.words}
    assert index.unlearned == unlearned(book, model.learned.tolist())


def test_an_index_of_another_shape_is_refused(book: Book, model: Model) -> None:
    arrays = sayings_arrays(book, model.learned.tolist())
    spoilt = [
        {**arrays, "counts": arrays["counts"][:-1]},
        {**arrays, "meant": arrays["meant"][:-1]},
        {**arrays, "meant": arrays["meant"] + len(arrays["classes"])},
        {**arrays, "classes": arrays["classes"].astype(float)},
        {**arrays, "unlearned": arrays["unlearned"][:-1]},
    ]
    for one in spoilt:
        with pytest.raises((ValueError, TypeError)):
            SayingsIndex(one)
