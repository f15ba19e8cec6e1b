"""What is heard in phrases: common practice, no source, but for the figures of the open test."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.reject.found import LIKELY, SURE
from diagnose.rulebase.book import Book
from diagnose.rulebase.sayings import sayings_of
from diagnose.words.heard import NEAREST, Heard
from diagnose.words.reader import LONGEST, Reader
from tests import shipped
from tests.golden import heard as golden

EACH = 25
"""One saying of the book in so many is tried in each of several ways."""


def taken(heard: Heard) -> dict[str, str]:
    """Return question -> the answer that is taken down."""
    return {one.id: one.answer for one in heard.taken if one.answer}


def test_the_weights_do_what_they_did(book: Book, reader: Reader) -> None:
    """The figures of the open test are those that were stored with the weights, to 0.01."""
    stored = json.loads(golden.STORED.read_text(encoding="utf-8"))
    rows = golden.open_phrases(book)
    now = golden.figures(rows, reader.hear([row.text for row in rows]))
    for name, value in stored["phrases"].items():
        assert getattr(now, name) == pytest.approx(value, abs=0.01), name
    _, right, wrong = golden.readings(book, reader)
    assert right == pytest.approx(stored["readings"]["right"], abs=0.01)
    assert wrong == pytest.approx(stored["readings"]["wrong"], abs=0.01)


def test_sayings_of_the_book_are_heard_as_their_own_answer(book: Book, reader: Reader) -> None:
    rows = [row for row in sayings_of(book) if row[0] != "called"][::9]
    missed = []
    for (_, name, answer, text), heard in zip(rows, reader.hear([r[3] for r in rows]), strict=True):
        found = {(one.id, one.answer): one.probability for one in (*heard.taken, *heard.likely)}
        twins = reader._sights.get(name, frozenset([name]))
        told = (name, answer) in found or any(entry in twins for entry, _ in found)
        if not told:
            missed.append(text)
        other = taken(heard).get(name, answer)
        assert other == answer, text
    assert len(missed) <= 0.01 * len(rows), missed


@pytest.fixture(scope="module")
def sample(book: Book, reader: Reader) -> list[tuple[str, dict[str, str]]]:
    """Sayings with what is taken from them."""
    texts = [text for kind, *_, text in sayings_of(book) if kind == "look"][::EACH]
    heard = [taken(one) for one in reader.hear(texts)]
    assert sum(map(bool, heard)) > 0.9 * len(texts)
    return list(zip(texts, heard, strict=True))


def turned_round(
    reader: Reader, sample: list[tuple[str, dict[str, str]]], texts: list[str]
) -> list[str]:
    """Return the sayings of which another answer is taken once they are written as ``texts``."""
    return [
        text
        for (text, before), heard in zip(sample, reader.hear(texts), strict=True)
        if any(taken(heard).get(name, answer) != answer for name, answer in before.items())
    ]


@pytest.mark.parametrize(
    "dressed",
    ["{upper}", "{text}.", "I think it was {text}", "{text}, same as last week", "so: {text} !"],
)
def test_capitals_stops_and_chatter_do_not_turn_a_reading_round(
    reader: Reader, sample: list[tuple[str, dict[str, str]]], dressed: str
) -> None:
    texts = [dressed.format(text=text, upper=text.upper()) for text, _ in sample]
    turned = turned_round(reader, sample, texts)
    assert len(turned) <= 0.01 * len(sample), turned


def test_a_slip_of_the_finger_does_not_turn_a_reading_round(
    reader: Reader, sample: list[tuple[str, dict[str, str]]]
) -> None:
    """Two letters in the middle swapped."""
    slips = [f"{t[: len(t) // 2]}{t[len(t) // 2 + 1 :][:1]}{t[len(t) // 2]}{t[len(t) // 2 + 2 :]}"
             for t, _ in sample]  # fmt: skip
    turned = turned_round(reader, sample, slips)
    assert len(turned) <= 0.03 * len(sample), turned


def test_phrases_read_together_are_read_as_each_by_itself(
    reader: Reader, sample: list[tuple[str, dict[str, str]]]
) -> None:
    texts = [text for text, _ in sample[:40]]
    backwards = reader.hear(texts[::-1])[::-1]
    for text, heard in zip(texts, backwards, strict=True):
        (alone,) = reader.hear([text])
        assert taken(alone) == taken(heard)


THINGS = [
    ("sand in the hole", "cavity-contents", "sand"),
    ("slag in the holes", "cavity-contents", "slag"),
    ("at the core", "beside-core", "at-a-core"),
    ("near the gate", "beside-gate", "at-gate"),
    ("smooth inside", "cavity-wall", "smooth"),
]


def test_what_is_said_plainly_is_taken(reader: Reader) -> None:
    """Else the next test, in which the same is denied, would say nothing."""
    for (thing, look, answer), heard in zip(
        THINGS, reader.hear([thing for thing, _, _ in THINGS]), strict=True
    ):
        assert taken(heard).get(look) == answer, thing


@pytest.mark.parametrize("no", ["no {}", "there was never any {}", "it is not {}"])
def test_what_is_denied_is_not_taken(reader: Reader, no: str) -> None:
    denied = reader.hear([no.format(thing) for thing, _, _ in THINGS])
    for (thing, look, answer), heard in zip(THINGS, denied, strict=True):
        assert taken(heard).get(look) != answer, (no, thing)


def test_a_denial_rules_an_answer_out(reader: Reader) -> None:
    (heard,) = reader.hear(["no sand in the holes"])
    assert ("cavity-contents", "sand") in {(one.id, one.answer) for one in heard.ruled_out}
    (heard,) = reader.hear(["no holes in the drag"])
    assert not heard.ruled_out  # neither holes nor the drag is denied by itself


@pytest.mark.parametrize(
    ("doubted", "plain"),
    [
        ("not sure if it is at the gate", "it is at the gate"),
        ("holes at the gate?", "holes at the gate"),
        ("maybe slag in the hole", "slag in the hole"),
    ],
)
def test_what_is_said_with_a_doubt_is_not_sure(reader: Reader, doubted: str, plain: str) -> None:
    sure, heard = reader.hear([plain, doubted])
    assert {"beside-gate", "cavity-contents"} & taken(sure).keys()
    assert not {"beside-gate", "cavity-contents"} & taken(heard).keys()


def test_places_that_are_sound_are_not_the_place_of_the_fault(reader: Reader) -> None:
    (heard,) = reader.hear(["holes in the cope, the drag is sound"])
    assert taken(heard)["height-in-mould"] == "cope"


def test_a_phrase_is_taken_apart_with_the_words_of_each_part(reader: Reader) -> None:
    (heard,) = reader.hear(["jagged hole in the drag, next to the core"])
    words = {one.id: one.words for one in heard.taken}
    assert words["beside-core"] == "next to the core"
    assert all(one.words in heard.phrase for one in (*heard.taken, *heard.likely, *heard.nearest))


def test_both_answers_to_one_question_leave_neither_sure(reader: Reader) -> None:
    (heard,) = reader.hear(["holes in the cope, holes in the drag"])
    assert "height-in-mould" not in taken(heard)
    offered = (*heard.likely, *heard.nearest)
    assert {one.answer for one in offered if one.id == "height-in-mould"} == {"cope", "drag"}


def with_saying(book: Book, look: str, answer: str, text: str) -> Book:
    old = book.looks[look]
    new = replace(old.answers[answer], words=(*old.answers[answer].words, text))
    answers = {**old.answers, answer: new}
    return replace(book, looks={**book.looks, look: replace(old, answers=answers)})


def test_a_word_added_to_the_book_is_heard_without_training(book: Book) -> None:
    text = "gribbled all over like a dunnock's egg"
    phrase = "it came out gribbled all over like a dunnock's egg"
    before = Reader(book).hear([phrase])[0]
    assert taken(before).get("texture") != "dimples"
    look, answer = "texture", next(iter(book.looks["texture"].answers))
    after = Reader(with_saying(book, look, answer, text))
    assert taken(after.hear([text])[0])[look] == answer
    heard = after.hear([phrase])[0]
    assert (look, answer) in {(one.id, one.answer) for one in (*heard.taken, *heard.likely)}


def test_an_answer_that_training_never_saw_is_heard_by_its_sayings(book: Book) -> None:
    look = book.looks["cavity-wall"]
    new = replace(look.answers["smooth"], say="furry", words=("furry like a peach",), usual=0.01)
    looks = {**book.looks, "cavity-wall": replace(look, answers={**look.answers, "furry": new})}
    heard = Reader(replace(book, looks=looks)).hear(["furry like a peach"])[0]
    assert taken(heard)["cavity-wall"] == "furry"


def test_an_answer_that_left_the_book_is_not_heard(book: Book) -> None:
    looks = {name: look for name, look in book.looks.items() if name != "cavity-wall"}
    heard = Reader(replace(book, looks=looks)).hear(["smooth inside the hole"])[0]
    assert "cavity-wall" not in {one.id for one in (*heard.taken, *heard.likely, *heard.nearest)}


@pytest.mark.parametrize(
    "phrase",
    ["asdf qwer zxcv", "blubber wobble frotz", "lorem ipsum dolor sit amet", "....", "42 42 42"],
)
def test_gibberish_is_not_understood(reader: Reader, phrase: str) -> None:
    (heard,) = reader.hear([phrase])
    assert not heard.taken


@pytest.mark.parametrize(
    "phrase",
    [
        "la pieza tiene agujeros lisos cerca del macho",
        "odlew ma gladkie pecherze pod skora",
        "\u043e\u0442\u043b\u0438\u0432\u043a\u0430 \u0441 \u0434\u044b\u0440\u0430\u043c\u0438",
        "\u9244\u306e\u9cf3\u7269\u306b\u7a74\u304c\u3042\u308b",
    ],
)
def test_an_unknown_language_is_not_guessed_at(reader: Reader, phrase: str) -> None:
    (heard,) = reader.hear([phrase])
    assert len(heard.taken) <= 1
    assert heard.taken or heard.missed or heard.likely


def test_ten_thousand_letters_are_read_in_part(reader: Reader) -> None:
    (heard,) = reader.hear(["smooth inside the hole. " + "word " * 2000 + "in the cope"])
    assert len(heard.phrase) > LONGEST
    assert taken(heard).get("cavity-wall") == "smooth"


@settings(max_examples=60, deadline=None)
@given(st.lists(st.text(max_size=60), min_size=1, max_size=3))
def test_any_text_is_read_without_a_fault(texts: list[str]) -> None:
    reader = shipped.first().reader
    for text, heard in zip(texts, reader.hear(texts), strict=True):
        assert heard.phrase == text
        assert all(SURE <= one.probability <= 1 for one in heard.taken)
        assert all(LIKELY <= one.probability < SURE for one in heard.likely)
        assert len({one.id for one in heard.taken}) == len(heard.taken)
        assert len(heard.nearest) <= NEAREST
