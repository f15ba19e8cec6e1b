"""One reject being worked: order does not matter, nothing is lost, everything can be undone."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import diagnose
from diagnose.desk import NONE
from diagnose.errors import Fault
from diagnose.reject import CALLED, Found, same_thing
from diagnose.session import Session
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
    for entry in {found.id for found in before.found}:
        session.take_back(entry)
    assert session.reject == replace(before, found=())
    fresh = actions.session(replace(before, found=()))
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
    assert [(found.id, found.answer) for found in session.reject.found] == [
        ("cavity-size", "under-3mm"),
        ("cavity-wall", "jagged"),
        ("swell", ""),
    ]


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
        ("measure", ("sand moistures", "4.6 %"), "Did you mean 'sand moisture'?"),
        ("measure", ("sand-moisture", "140 %"), "140 % cannot be. It lies between 0.3 and 15 %"),
        ("measure", ("sand-moisture", "4.6"), "4.6 has no unit. Say which: %"),
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
    understood = session.see("smooth holes like the moon through a wet window")
    assert session.reject.about("cavity-wall") == Found(
        "look", "cavity-wall", "smooth", said=understood.phrase
    )
    assert session.reject.not_understood
    for words in session.reject.not_understood:
        session.forget_phrase(words)
    assert session.reject.not_understood == ()
    assert session.undo()


def test_understanding_a_phrase_takes_nothing_down(session: Session) -> None:
    before = session.reject
    assert session.understand("smooth holes").matches
    assert session.reject == before


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
    assert session.reject.found == (Found(CALLED, "pinholes"),)
    assert session.defects()[0].id == "pinholes"
