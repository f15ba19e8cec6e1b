"""What is asked when: the casting, then place by place; the fault, then the cause."""

from __future__ import annotations

from itertools import groupby

from hypothesis import given, settings

from diagnose.reasoning.places import CASTING, places
from diagnose.reasoning.turns import ToGo, of_fault
from diagnose.session.session import Session
from tests import actions
from tests.actions import act


@settings(max_examples=6)
@given(actions.ACTIONS)
def test_turns_are_the_open_questions_each_once(done: list[actions.Action]) -> None:
    session = act(actions.session(), done)
    assert sorted(p.id for p in session.turns) == sorted(p.id for p in session.prospects)
    heard = [bool(p.heard) for p in session.turns]
    assert heard == sorted(heard, reverse=True)


def test_the_casting_first_then_each_place_in_one_run(session: Session) -> None:
    session.about(metal="grey iron", process="green sand")
    session.answer("fault-form", "hole")
    session.call_it("blow-core-gas")
    where = places(session.book)
    runs = [place for place, _ in groupby(where[p.id] for p in session.turns[:40])]
    assert runs[0] == CASTING
    told = [where[p.id] for p in session.turns if p.rate >= 0.5 * session.prospects[0].rate]
    assert told[0] == CASTING


def test_until_the_fault_is_clear_the_fault_is_asked_for(session: Session) -> None:
    assert session.turns[0].id == "fault-form"
    assert of_fault(session.desk, session.prospects, session.probabilities)
    for look, answer in (("fault-form", "hole"), ("beside-core", "at-a-core")):
        session.answer(look, answer)
    session.call_it("blow-core-gas")
    clear = session.defects()[0].probability >= 0.8
    told = of_fault(session.desk, session.prospects, session.probabilities)
    assert bool(told) != clear


def test_a_question_that_is_not_worth_it_does_not_end_the_asking(session: Session) -> None:
    """What was heard all but surely came first, told nothing, and so the asking stopped."""
    session.about(metal="grey iron", process="green sand", section="7 mm")
    session.see("edges white as glass and no drill will touch them")
    session.see("only the thin rim is hard, the boss machines well")
    session.measure("carbon equivalent", "3.7 %")
    assert any(p.heard and p.rate < session.book.scale.worth_asking for p in session.turns)
    asked = session.ask_next(1000)
    worth = [question.worth for question in asked]
    assert any(worth)
    assert worth == sorted(worth, reverse=True)
    assert session.settled().asking
    assert session.to_go().questions > 0
    assert len(asked) == len(session.turns)


def test_how_many_more(session: Session) -> None:
    assert ToGo(4, 6.2).text == "About 4 more, 6 minutes, or stop here."
    assert ToGo(1, 0.4).text == "About 1 more, 1 minute, or stop here."
    assert ToGo(0, 0.0).text == "Nothing left to ask is worth its minutes: stop here."
    left = session.to_go()
    assert left.questions > 1
    assert left.minutes > left.questions
