"""The question screen: all of its answers are seen at once, and what is cut is a key away."""

from __future__ import annotations

from textwrap import wrap

import pytest

from diagnose.notes.wording import first_sentence
from diagnose.reasoning.asking import Question
from diagnose.reasoning.ranking import Cause
from diagnose.session.session import Session, open_session
from diagnose.session.shelf import Shelf
from diagnose.terminal.screens.app import DiagnoseApp
from diagnose.terminal.screens.ask import Ask, answer_rows, cause_rows
from diagnose.terminal.screens.frame import Go
from diagnose.terminal.screens.overpage import OverPage
from diagnose.terminal.screens.question import REST, Told, fitted, question_lines
from tests.terminal.screens.conftest import shown, whole

COLUMNS, ROWS = 46, 21
"""What a window of 80 by 24 leaves for a question and its answers, checked below."""
SLAG = "Slag burns. It can explode on damp: stand aside, and skim with a warm dry tool."
LONG = Told(
    "Was the slag held back?",
    "Watch a tap from the side. The dam must hold the slag back. Note when the hole is opened.",
    5.0,
    (SLAG,),
    "It helps to tell one thing from another.",
)


@pytest.fixture(scope="module")
def shipped() -> Session:
    session = open_session()
    session.about(metal="grey iron", process="green sand", section="12 mm")
    return session


async def test_more_shows_what_the_answers_look_like(shelf: Shelf, shipped: Session) -> None:
    session = shipped.another()
    session.see("holes")
    app = DiagnoseApp(session, shelf)
    async with app.run_test(size=(80, 60)) as pilot:
        await pilot.press("enter", "f4")
        app.screen.post_message(Go("ask", "cavity-wall"))
        await pilot.pause()
        await pilot.press("m")
        await pilot.pause()
        assert isinstance(app.screen, OverPage)
        seen = whole(app)
        assert "What the answers look like" in seen
        assert "2  rough with little fir-tree" in seen
        assert "+------" in seen


def questions(session: Session) -> list[Question]:
    return session.ask_next(limit=1000)


def height(question: Question) -> int:
    """Rows that the answers take, each beside its mark and number."""
    return sum(len(wrap(row.text, COLUMNS - len(row.left) - 2)) for row in answer_rows(question))


def shown_of(session: Session, question: Question) -> list[str]:
    cautions = [session.book.cautions[caution].say for caution in question.caution]
    room = ROWS - 1 - height(question)
    return str(fitted(question_lines(question, cautions), COLUMNS, room)).splitlines()


def test_every_question_of_the_book_fits_with_all_its_answers(shipped: Session) -> None:
    asked = questions(shipped)
    assert len(asked) > 100
    for question in asked:
        rows = shown_of(shipped, question)
        assert len(rows) + 1 + height(question) <= ROWS, question.id
        assert any(row.startswith("Look:") for row in rows), question.id


def test_every_caution_of_the_book_is_named_beside_its_question(shipped: Session) -> None:
    for question in questions(shipped):
        text = " ".join(shown_of(shipped, question))
        for caution in question.caution:
            assert f"Care: {first_sentence(shipped.book.cautions[caution].say)}" in text


async def test_a_window_of_80_by_24_leaves_that_room(shipped: Session, shelf: Shelf) -> None:
    app = DiagnoseApp(shipped.another(shipped.reject), shelf)
    longest = max(questions(shipped), key=lambda question: len(question.ask + question.how))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("1", "f4")
        app.screen.post_message(Go("ask", longest.id))
        await pilot.pause()
        await pilot.pause()
        assert isinstance(app.screen, Ask)
        room = app.screen.query_one("#asking").content_size
        assert (room.width, room.height) == (COLUMNS, ROWS)
        assert app.screen.query_one("#answers").max_scroll_y == 0
        assert all(answer.split("  ")[0] in whole(app) for answer in ("0  ", "s  skip"))


def test_what_there_is_no_room_for_is_cut_from_the_end() -> None:
    everything = fitted(LONG, 60, 8).plain
    assert SLAG in " ".join(everything.splitlines())
    assert REST not in everything
    short = fitted(LONG, 60, 7).plain
    assert "Care: Slag burns.\n" in short
    assert "Note when" in short
    assert "Why" not in short
    assert short.endswith(f"m  {REST}")
    shorter = fitted(LONG, 60, 6).plain
    assert "Look: Watch a tap from the side.\n" in shorter
    shortest = fitted(LONG, 60, 3).plain.splitlines()
    assert shortest == [LONG.ask, "Care: Slag burns.", f"m  {REST}"]
    assert fitted(LONG, 60, 1).plain == LONG.ask


async def test_more_shows_all_that_belongs_to_it(session: Session, shelf: Shelf) -> None:
    session.answer("cavity-wall", "smooth")
    app = DiagnoseApp(session, shelf)
    async with app.run_test() as pilot:
        asked = shown(app, "#question").splitlines()[0]
        await pilot.press("m")
        assert isinstance(app.screen, OverPage)
        assert asked in whole(app)
        assert "Why: It helps to tell" in whole(app)
        await pilot.press("escape")
        assert isinstance(app.screen, Ask)


def test_the_causes_are_few_and_the_others_are_counted() -> None:
    causes = [Cause(str(n), f"cause {n}", "sand", 0.1) for n in range(9)]
    rows = cause_rows([*causes, Cause("x", "rare", "sand", 0.001)], wide=True)
    assert [row.id for row in rows] == ["0", "1", "2", "3", "4", "others"]
    assert rows[-1].text == "and 4 more, 40 % together"
    assert [row.id for row in cause_rows(causes[:2], wide=True)] == ["0", "1"]
