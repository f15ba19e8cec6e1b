"""What to hold back at once, by what was found of which castings are bad (common practice)."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from diagnose.notes.compose import compose
from diagnose.notes.containing import MOST_FOUND
from diagnose.reject.found import Looked
from diagnose.reject.reject import Reject
from diagnose.session.session import Session
from tests import shipped

BOOK = shipped.book()


@pytest.mark.parametrize(
    ("look", "answer", "held"),
    [
        ("runs-with", "one-core-batch", "that batch of cores"),
        ("runs-with", "one-sand-batch", "that sand"),
        ("place-in-ladle", "last-from-ladle", "the last boxes of every ladle"),
        ("plate-place", "one-impression", "that impression"),
        ("box-number", "one-box-or-pair", "out of use"),
        ("since-change", "new-core-mix", "the new cores"),
    ],
)
def test_what_is_held_follows_from_the_answers(
    start: Callable[..., Session], look: str, answer: str, held: str
) -> None:
    session = start(Reject())
    session.answer("fault-form", "hole")
    before = compose(session).contain
    session.answer(look, answer)
    after = compose(session).contain
    assert held in after[0]
    assert held not in " ".join(before)


def test_what_was_only_likely_heard_holds_nothing(start: Callable[..., Session]) -> None:
    session = start(Reject())
    session.answer("fault-form", "hole")
    session.add(Looked("runs-with", "one-core-batch", chances=(("one-core-batch", 0.5),)))
    assert "batch of cores" not in compose(session).contain[0]


def test_answers_that_say_which_castings_say_what_to_hold() -> None:
    telling = [n for n, look in BOOK.looks.items() if any(a.contain for a in look.answers.values())]
    assert len(telling) >= 8
    for name in telling:
        assert any(not answer.contain for answer in BOOK.looks[name].answers.values())


def test_more_answers_than_a_few_do_not_fill_the_note(start: Callable[..., Session]) -> None:
    session = start(Reject())
    for look, answer in (
        ("fault-form", "hole"), ("runs-with", "one-core-batch"), ("box-number", "one-box-or-pair"),
        ("place-in-ladle", "last-from-ladle"), ("since-change", "new-core-mix"),
    ):  # fmt: skip
        session.answer(look, answer)
    held = compose(session).contain
    known = {a.contain for look in BOOK.looks.values() for a in look.answers.values()} - {""}
    assert sum(text in known for text in held) == MOST_FOUND
    assert any(text not in known for text in held)
