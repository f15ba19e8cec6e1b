"""What the reader is trained with: nothing of the open test, everything else of the corpus."""

from __future__ import annotations

from collections import Counter

import pytest

from diagnose.rulebase.book import Book
from diagnose.rulebase.folder import knowledge_folder
from diagnose.words.training.corpus import (
    APART,
    OPEN,
    as_data,
    bucket,
    corpus,
    data_hash,
    example_of,
    implied,
    is_apart,
    is_open,
)
from tests.golden.heard import open_phrases, open_utterances


def test_nothing_of_the_open_test_is_trained_on(book: Book) -> None:
    told = (e for e in corpus(book, knowledge_folder()) if e.kind in ("said", "remark"))
    trained = {e.text.casefold() for e in told}
    kept_out = [*open_phrases(book), *open_utterances(book)]
    assert len(kept_out) > 3000
    assert not trained & {row.text.casefold() for row in kept_out}


def test_the_heaps_are_of_the_size_that_they_should_be(book: Book) -> None:
    texts = [e.text for e in corpus(book, knowledge_folder()) if e.kind in ("said", "remark")]
    assert sum(map(is_open, texts)) == 0
    assert len([t for t in texts if is_apart(t)]) == pytest.approx(len(texts) / APART, rel=0.1)
    heaps = Counter(bucket(f"text {n}", OPEN) for n in range(5000))
    assert max(heaps.values()) < 1.15 * min(heaps.values())


def test_an_answer_brings_what_it_makes_sense_under(book: Book) -> None:
    assert "fault-form=hole" in set(implied(book, ["cavity-wall=smooth"]))
    assert list(implied(book, ["ladle-skimmed=skimmed"])) == []


def test_examples_survive_being_written_down(book: Book) -> None:
    some = corpus(book, knowledge_folder())[::500]
    rows = as_data(some)
    assert [example_of({**row}) for row in rows] == some
    assert data_hash(rows) == data_hash(as_data(some))
    assert data_hash(rows) != data_hash(rows[1:])
