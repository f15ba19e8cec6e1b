"""One reject being worked: order does not matter, nothing is lost, everything can be undone."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import diagnose
from diagnose.basics.errors import Fault
from diagnose.reasoning.setup import NONE
from diagnose.reject.found import (
    LIKELY,
    SURE,
    Called,
    Looked,
    Measured,
    same_thing,
)
from diagnose.session.session import Session
from tests import actions
from tests.actions import act


def probabilities(session: Session) -> list[float]:
    return [float(p) for p in session.probabilities]


def distinct(done: list[actions.Action]) -> list[actions.Action]:
    """Leave out all but the last answer to each question."""
    worked = act(actions.session(), done)
    return [
        ("add", (found,), {})
        for found in worked.reject.found
        if not any(same_thing(found, other) for other in worked.reject.found if other is not found)
    ]


@settings(max_examples=20)
@given(st.lists(actions.FINDINGS, max_size=8).map(distinct), st.randoms())
def test_the_order_of_findings_does_not_matter(done: list[actions.Action], mixer: object) -> None:
    mixed = list(done)
    mixer.shuffle(mixed)  # type: ignore[attr-defined]
    one, other = act(actions.session(), done), act(actions.session(), mixed)
    assert probabilities(one) == pytest.approx(probabilities(other), rel=1e-9, abs=1e-15)


@settings(max_examples=20)
@given(actions.ACTIONS)
def test_every_undo_and_redo_restores_exactly(done: list[actions.Action]) -> None:
    session = actions.session()
    states = [session.reject]
    for action in done:
        act(session, [action])
        if session.reject != states[-1]:
            states.append(session.reject)
    for state in reversed(states[:-1]):
        assert session.undo()
        assert session.reject == state
    assert not session.undo()
    for state in states[1:]:
        assert session.redo()
        assert session.reject == state
    assert not session.redo()
    assert probabilities(session) == probabilities(actions.session(session.reject))


@settings(max_examples=20)
@given(actions.ACTIONS)
def test_probabilities_add_up_to_one(done: list[actions.Action]) -> None:
    session = act(actions.session(), done)
    causes, defects = session.causes(), session.defects()
    none = next(cause.probability for cause in causes if cause.id == NONE)
    assert sum(cause.probability for cause in causes) == pytest.approx(1, abs=1e-12)
    assert sum(defect.probability for defect in defects) + none == pytest.approx(1, abs=1e-12)
    assert sum(probabilities(session)) == pytest.approx(1, abs=1e-12)
    assert all(0 <= p <= 1 for p in probabilities(session))
    for ranked in (causes, defects, session.accounts(limit=None)):
        shares = [one.probability for one in ranked]
        assert shares == sorted(shares, reverse=True)
    of_cause = dict.fromkeys((cause.id for cause in causes), 0.0)
    for account in session.accounts(limit=None):
        of_cause[account.path[0]] += account.probability
    for cause in causes:
        if cause.id != NONE:
            assert cause.probability == pytest.approx(of_cause[cause.id], abs=1e-12)


@settings(max_examples=10)
@given(actions.ACTIONS)
def test_whatever_was_done_everything_can_be_asked(done: list[actions.Action]) -> None:
    session = act(actions.session(), done)
    first = session.causes()[0].id
    for question in session.ask_next(limit=2):
        assert session.question(question.id).ask == question.ask
    assert session.settled().text
    assert 0 <= session.stability().share <= 1
    for found in (session.warnings(), session.explain(first), session.mechanism(first)):
        assert isinstance(found, list)
    for change in session.would_change():
        assert change.leads_to != session.causes()[0].name


@settings(max_examples=20)
@given(actions.FINDINGS, actions.ACTIONS)
def test_what_is_taken_back_was_never_said(
    finding: actions.Action, done: list[actions.Action]
) -> None:
    session = act(actions.session(), [*done, finding])
    before = session.reject
    for entry in actions.everything_about(before):
        session.take_back(entry)
    assert session.reject == replace(before, found=(), heard=())
    fresh = actions.session(replace(before, found=(), heard=()))
    assert probabilities(session) == probabilities(fresh)


def test_unsure_says_nothing(session: Session) -> None:
    before = probabilities(session)
    session.unsure("cavity-wall")
    session.unsure("core-vent-open")
    session.unsure("sand-moisture")
    assert probabilities(session) == before
    assert not {"cavity-wall", "core-vent-open", "sand-moisture"} & {
        question.id for question in session.ask_next(limit=1000)
    }


def test_a_later_answer_takes_the_place_of_an_earlier_one(session: Session) -> None:
    session.answer("cavity-wall", "smooth")
    session.answer("cavity-size", "under-3mm")
    session.answer("cavity-wall", "jagged")
    session.call_it("drop")
    session.call_it("swell")
    assert session.reject.found == (
        Looked("cavity-size", "under-3mm"), Looked("cavity-wall", "jagged"), Called("swell"),
    )  # fmt: skip


def test_a_change_after_an_undo_forgets_what_was_undone(session: Session) -> None:
    session.answer("cavity-wall", "smooth")
    session.undo()
    session.answer("cavity-wall", "jagged")
    assert not session.redo()
    assert session.reject.found[0].answer == "jagged"


def test_saying_the_same_again_is_no_change(session: Session) -> None:
    session.answer("cavity-wall", "smooth")
    session.answer("cavity-wall", "smooth")
    assert session.undo()
    assert not session.undo()


@pytest.mark.parametrize(
    ("method", "given", "says"),
    [
        ("answer", ("cavity-wal", "smooth"), "no look called 'cavity-wal'. Did you mean"),
        ("answer", ("cavity-wall", "smoth"), "has no answer 'smoth'. It takes smooth or"),
        ("answer", ("core-vent-open", "blocked"), "It is a check; take it down as one."),
        ("check", ("core-vent-opened", "no"), "Did you mean 'core-vent-open'?"),
        ("check", ("core-vent-open", "maybe"), "has no answer 'maybe'"),
        ("call_it", ("pin-holes",), "Did you mean 'pinholes'?"),
        ("measure", ("cheese", "4 %"), "There is no measurement called 'cheese'. Check the"),
        ("measure", ("strength", "12 psi"), "“green compression strength of the sand”. Say which"),
        ("measure", ("sand-moisture", "140 %"), "140 % cannot be. It lies between 0.3 and 15 %"),
        ("measure", ("sand-moisture", "46"), "46 has no unit. Say which: %"),
        ("measure", ("pouring temperature", "2450"), "2450 has no unit. Say which: degC"),
        ("unsure", ("cavity-wal",), "Did you mean 'cavity-wall'?"),
        ("question", ("cavity-wal",), "There is no question called 'cavity-wal'"),
    ],
)
def test_what_cannot_be_is_refused_and_changes_nothing(
    session: Session, method: str, given: tuple[str, ...], says: str
) -> None:
    session.answer("cavity-size", "under-3mm")
    before = session.reject
    with pytest.raises(Fault) as fault:
        getattr(session, method)(*given)
    assert says in str(fault.value)
    assert session.reject == before
    assert session.undo()
    assert not session.undo()


@pytest.mark.parametrize(
    ("named", "says"),
    [
        ({"metal": "gray irn"}, "'gray irn' is no metal known here. Did you mean 'grey iron'?"),
        ({"process": "lost foam"}, "'lost foam' is no process known here. Known are"),
        ({"section": "8"}, "section: 8 has no unit"),
        ({"section": "0.5 mm"}, "A ruling section of 0.5 mm cannot be; it lies between 1 and"),
        ({"section": "8, 12 mm"}, "A reject has one ruling section."),
        ({"section": float("nan")}, "A ruling section of nan mm cannot be"),
        ({"name": "cover", "section": "thick"}, "section: 'thick' is not a number"),
    ],
)
def test_what_a_reject_cannot_be(session: Session, named: dict[str, str], says: str) -> None:
    before = session.reject
    with pytest.raises(Fault) as fault:
        session.about(**named)  # type: ignore[arg-type]
    assert says in str(fault.value)
    assert session.reject == before


@pytest.mark.parametrize(
    ("named", "field", "value"),
    [
        ({"metal": "Gray-Iron"}, "metal", "grey iron"),
        ({"metal": "SG iron"}, "metal", "ductile iron"),
        ({"section": "1/2 in"}, "section", 12.7),
        ({"section": 8}, "section", 8.0),
        ({"name": "  cover 7 "}, "name", "cover 7"),
    ],
)
def test_other_ways_to_say_what_it_is(
    session: Session, named: dict[str, str], field: str, value: object
) -> None:
    session.about(**named)  # type: ignore[arg-type]
    assert getattr(session.reject, field) == value


def test_a_phrase_is_taken_down_part_by_part(session: Session) -> None:
    heard = session.see("smooth holes; like the moon through a wet window")
    (wall,) = (one for one in heard.taken if one.id == "cavity-wall")
    assert wall.words == "smooth holes"
    assert session.reject.about("cavity-wall") is None
    said = Looked("cavity-wall", "smooth", "smooth holes", (("smooth", wall.probability),))
    assert session.reject.finding("cavity-wall") == said
    assert {one.phrase for one in session.reject.heard} == {heard.phrase}
    assert session.reject.not_understood == ("like the moon through a wet window",)
    for words in session.reject.not_understood:
        session.forget_phrase(words)
    assert session.reject.not_understood == ()
    assert session.undo()


def test_understanding_a_phrase_takes_nothing_down(session: Session) -> None:
    before = session.reject
    heard = session.understand("smooth holes")
    assert {(one.id, one.answer) for one in heard.taken} == {
        ("fault-form", "hole"), ("cavity-wall", "smooth"),
    }  # fmt: skip
    assert session.reject == before


def test_what_is_heard_is_graded(session: Session) -> None:
    heard = session.understand("sand or slag in the holes")
    for meanings, least, most in (
        (heard.taken, SURE, 1.0), (heard.likely, LIKELY, SURE), (heard.faint, 0.0, LIKELY),
    ):  # fmt: skip
        assert all(least <= one.probability < most for one in meanings)
        assert [one.probability for one in meanings] == sorted(
            (one.probability for one in meanings), reverse=True
        )
        assert all(one.words in heard.phrase for one in meanings)
    likely = {(one.id, one.answer) for one in heard.likely}
    assert {("cavity-contents", "sand"), ("cavity-contents", "slag")} <= likely
    assert 0 < len(heard.nearest) <= 5


def test_a_reading_in_a_phrase_is_a_reading(session: Session) -> None:
    heard = session.see("moisture 4.6 %")
    assert [(one.id, one.text) for one in heard.amounts] == [("sand-moisture", "4.6 %")]
    assert session.reject.found == (Measured("sand-moisture", readings=(4.6,), said="4.6 %"),)
    session.see("moisture 5.2 %")
    assert [found.readings for found in session.reject.found] == [(4.6,)]


def test_an_exact_answer_stands_before_words(session: Session) -> None:
    session.see("smooth holes")
    session.answer("cavity-wall", "jagged")
    heard = session.reject.heard
    assert ("cavity-wall", "smooth") in {(one.id, one.answer) for one in heard}
    assert session.reject.finding("cavity-wall") == Looked("cavity-wall", "jagged")
    before = probabilities(session)
    session.not_meant("cavity-wall")
    assert len(session.reject.heard) < len(heard)
    assert session.reject.about("cavity-wall") is not None
    assert probabilities(session) == before


def test_what_was_likely_heard_is_settled(session: Session) -> None:
    heard = session.see("sand or slag in the holes")
    meant = next(one for one in heard.likely if (one.id, one.answer) == ("cavity-contents", "slag"))
    session.settle(meant.words, meant)
    assert session.reject.found == (Looked("cavity-contents", "slag", said=meant.words),)
    assert "cavity-contents" not in {one.id for one in session.reject.heard}


def test_phrases_that_contradict_each_other_weaken_each_other(session: Session) -> None:
    session.see("the wall of the hole is smooth")
    one = session.reject.finding("cavity-wall")
    session.see("the wall of the hole is jagged")
    both = session.reject.finding("cavity-wall")
    assert one is not None
    assert both is not None
    assert one.chance >= SURE > both.chance
    (told,) = session.contradictions()
    assert "both were said: which?" in told
    session.answer("cavity-wall", "jagged")
    (told,) = session.contradictions()
    assert "The answer counts." in told


def test_a_phrase_cannot_steer_the_screen(session: Session) -> None:
    session.see("the moon\x1b[2J in\u202ea wet window")
    assert all(words.isprintable() for words in session.reject.not_understood)


def test_an_empty_phrase_is_nothing(session: Session) -> None:
    before = session.reject
    for phrase in ("", "   ", "\n\t"):
        session.see(phrase)
    assert session.reject == before


def test_the_package_starts_a_session() -> None:
    session = diagnose.start(metal="grey iron", process="green sand", section="8 mm")
    session.call_it("pinholes")
    assert session.reject.found == (Called("pinholes"),)
    assert session.defects()[0].id == "pinholes"
