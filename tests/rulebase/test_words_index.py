from __future__ import annotations

from dataclasses import replace
from typing import Any

from diagnose.rulebase.book import Answer, Book, Look, Term
from diagnose.rulebase.reading import draft
from diagnose.rulebase.words_index import Index, sayings_of

SCALE = draft().book.scale


def afresh(_: str, build: Any) -> Any:
    return build()


def look(**words: tuple[str, ...]) -> Look:
    answers = {name: Answer(say=f"the {name} one", usual=0.5, words=w) for name, w in words.items()}
    return Look(ask="What is the hole like?", how="", minutes=1, answers=answers, source=())


BOOK = Book(
    scale=SCALE,
    looks={
        "wall": look(smooth=("smooth", "smooth hole"), rough=("rough", "not smooth")),
        "skin": look(smooth=("smooth skin",), clean=("to the", "did not look", "3 mm")),
    },
    glossary={"hole": Term(means="", source=(), also=("gas pocket",))},
)


def texts(index: Index) -> set[str]:
    return {saying.text for saying in index.sayings}


def test_what_says_nothing_is_left_out() -> None:
    assert "to the" not in texts(Index(BOOK, afresh))


def test_a_not_over_nothing_that_tells_is_left_out() -> None:
    assert "did not look" not in texts(Index(BOOK, afresh))


def test_figures_are_left_to_the_sizes() -> None:
    assert "3 mm" not in texts(Index(BOOK, afresh))


def test_rare_words_weigh_more() -> None:
    index = Index(BOOK, afresh)
    assert index.uses["smooth"] == 2
    assert index.weight("smooth") < index.weight("rough")


def test_owners_are_counted_by_words_together() -> None:
    index = Index(BOOK, afresh)
    assert index.owners(frozenset({"smooth"})) == 2
    assert index.owners(frozenset({"smooth", "skin"})) == 1
    assert index.owners(frozenset({"rough", "skin"})) == 0


def test_topics_are_the_things_in_the_question() -> None:
    assert Index(BOOK, afresh).topics["look", "wall"] == {"hole"}


def test_synonyms_are_known_words() -> None:
    assert {"gas", "pocket", "smooth"} <= Index(BOOK, afresh).known


def test_one_word_answers_only_a_question() -> None:
    answers = {"full": Answer(say="full", usual=0.5), "low": Answer(say="never full", usual=0.5)}
    book = replace(BOOK, looks={"sprue": replace(look(), answers=answers)})
    assert [text for *_, text in sayings_of(book)] == ["never full"]
