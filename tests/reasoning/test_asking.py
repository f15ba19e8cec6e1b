"""Which question comes next, what it is expected to bring, and when to stop."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.reasoning.asking import BANDS, CERTAIN, TO_SETTLE, Question, likely_heard
from diagnose.reject.found import CHECK, LOOK, SURE, Hearing
from diagnose.session.session import Session
from tests import actions
from tests.actions import act


def rate(session: Session, question: Question) -> float:
    """Bits a minute, the handling of the question counted in.

    What was likely heard already is settled with one key: that is all its handling.
    """
    heard = question.id in likely_heard(session.reject)
    handling = TO_SETTLE if heard else session.book.scale.handling
    return question.gain_bits / (question.minutes + handling)


def entropy(session: Session) -> float:
    shares = np.array([cause.probability for cause in session.causes()])
    shares = shares[shares > 0]
    return float(-(shares * np.log2(shares)).sum())


def answered(session: Session, entry: str, answer: str) -> Session:
    other = session.another(session.reject)
    give = other.answer if entry in session.book.looks else other.check
    give(entry, answer)
    return other


@settings(max_examples=6)
@given(st.lists(actions.FINDINGS, max_size=4), st.integers(0, 30))
def test_what_a_question_brings_is_what_its_answers_bring_on_average(
    done: list[actions.Action], place: int
) -> None:
    """Expected gain against its definition: entropy now less the mean entropy afterwards."""
    session = act(actions.session(), done)
    asked = [p for p in session.prospects if p.kind in (LOOK, CHECK)]
    prospect = asked[place % len(asked)]
    chances = prospect.joint.sum(axis=1)
    after = [
        entropy(answered(session, prospect.id, answer)) if chance else 0.0
        for answer, chance in zip(prospect.answers, chances, strict=True)
    ]
    assert sum(chances) == pytest.approx(1, abs=1e-9)
    gain = entropy(session) - float(chances @ np.array(after))
    assert prospect.gain_bits == pytest.approx(gain, abs=1e-6)


@settings(max_examples=6)
@given(st.lists(actions.FINDINGS, max_size=4), st.integers(0, 30))
def test_what_an_answer_would_make_of_the_causes(done: list[actions.Action], place: int) -> None:
    session = act(actions.session(), done)
    asked = [p for p in session.prospects if p.kind in (LOOK, CHECK)]
    prospect = asked[place % len(asked)]
    for answer, row in zip(prospect.answers, prospect.joint, strict=True):
        if row.sum() == 0.0:
            continue
        roots = session.desk.roots
        causes = {c.id: c.probability for c in answered(session, prospect.id, answer).causes()}
        for name, share in zip(roots, row / row.sum(), strict=True):
            assert share == pytest.approx(causes[name], abs=1e-7)


@settings(max_examples=10)
@given(actions.ACTIONS)
def test_the_most_telling_a_minute_comes_first(done: list[actions.Action]) -> None:
    session = act(actions.session(), done)
    questions = session.ask_next(limit=1000)
    rates = [prospect.rate for prospect in session.prospects]
    assert rates == sorted(rates, reverse=True)
    told = {prospect.id: prospect.rate for prospect in session.prospects}
    for question in questions:
        assert rate(session, question) == pytest.approx(told[question.id])
    reject = session.reject
    known = {found.id for found in reject.found} | {
        found.id
        for found in reject.findings
        if found.kind in (LOOK, CHECK) and found.chance >= SURE
    }
    assert not known & {question.id for question in questions}
    for question in questions:
        assert question.gain_bits >= 0
        assert question.minutes > 0
        if question.id in likely_heard(reject):
            assert question.minutes == TO_SETTLE
            assert question.why.startswith("You said “")
        else:
            assert question.why.startswith("It ")
        assert bool(question.answers) != bool(question.unit)


def test_what_was_likely_heard_is_settled_first(session: Session) -> None:
    session.answer("fault-form", "hole")
    before = {question.id: question for question in session.ask_next(limit=1000)}
    session.keep_heard(
        Hearing(LOOK, "cavity-contents", answer, chance, "something in it", "something in it")
        for answer, chance in (("sand", 0.5), ("slag", 0.4))
    )
    first = session.ask_next()[0]
    assert first.id == "cavity-contents"
    assert first.minutes == TO_SETTLE < before[first.id].minutes
    assert first.why == "You said “something in it”: which of these does it mean?"
    assert first.answers == before[first.id].answers
    prospect = next(p for p in session.prospects if p.id == "cavity-contents")
    chances = dict(zip(prospect.answers, prospect.joint.sum(axis=1), strict=True))
    ranked = sorted(chances, key=lambda answer: -chances[answer])
    assert {*ranked[:2]} == {"sand", "slag"}
    assert sum(chances.values()) == pytest.approx(1)


def test_what_was_surely_heard_is_not_asked(session: Session) -> None:
    heard = [
        Hearing(LOOK, "fault-form", "hole", 0.97, "holes", "holes"),
        Hearing(LOOK, "beside-core", "at-a-core", SURE, "by the core", "by the core"),
        Hearing(LOOK, "cavity-wall", "smooth", SURE - 0.01, "slick", "slick"),
        Hearing(CHECK, "core-vent-open", "blocked", 0.9, "choked", "choked"),
    ]
    session.keep_heard(heard)
    asked = {question.id for question in session.ask_next(limit=1000)}
    assert not asked & {"fault-form", "beside-core", "core-vent-open"}
    assert "cavity-wall" in asked


def test_an_answer_ruled_out_by_another_is_not_expected(session: Session) -> None:
    session.answer("cavity-contents", "empty")
    prospect = next(p for p in session.prospects if p.id == "fault-form")
    chances = dict(zip(prospect.answers, prospect.joint.sum(axis=1), strict=True))
    assert {answer for answer, chance in chances.items() if chance} == {"hole", "foreign-matter"}
    for answer, row in zip(prospect.answers, prospect.joint, strict=True):
        if chances[answer]:
            causes = {c.id: c.probability for c in answered(session, "fault-form", answer).causes()}
            for name, share in zip(session.desk.roots, row / row.sum(), strict=True):
                assert share == pytest.approx(causes[name], abs=1e-9)


def test_a_question_that_makes_no_sense_yet_is_not_asked(session: Session) -> None:
    def asked() -> set[str]:
        return {question.id for question in session.ask_next(limit=1000)}

    assert "fault-form" in asked()
    assert "cavity-wall" not in asked()
    session.answer("fault-form", "hole")
    assert "fault-form" not in asked()
    assert {"cavity-wall", "cavity-colour"} <= asked()
    assert "seam-lips" not in asked()
    session.answer("fault-form", "foreign-matter")
    assert "cavity-wall" in asked()
    assert "cavity-colour" not in asked()


def test_a_single_reject_is_not_asked_what_it_shares_with_others(session: Session) -> None:
    asked = {question.id for question in session.ask_next(limit=1000)}
    assert {"runs-with", "same-spot"} <= asked
    session.answer("how-many", "only-one")
    asked = {question.id for question in session.ask_next(limit=1000)}
    assert not asked & {"runs-with", "same-spot", "step-direction"}
    session.answer("how-many", "some")
    assert "runs-with" in {question.id for question in session.ask_next(limit=1000)}


def test_any_question_can_be_asked_again(session: Session) -> None:
    session.answer("fault-form", "seam")
    for entry in ("fault-form", "cavity-wall", "core-vent-open", "sand-moisture"):
        assert session.question(entry).id == entry


def test_a_question_says_what_it_tells_apart(session: Session) -> None:
    session.answer("cavity-wall", "smooth")
    names = {cause.name for cause in session.causes()[:8]}
    why = session.ask_next()[0].why
    assert why.startswith("It helps to tell “")
    assert sum(f"“{name}”" in why for name in names) == 2


def test_a_measurement_is_expected_in_three_bands(session: Session) -> None:
    prospect = next(p for p in session.prospects if p.id == "sand-moisture")
    assert prospect.answers == BANDS
    assert prospect.joint.sum() == pytest.approx(1)


def test_a_question_in_the_shop_brings_its_cautions(session: Session) -> None:
    for question in session.ask_next(limit=1000):
        assert set(question.caution) <= set(session.book.cautions)
    assert any(question.caution for question in session.ask_next(limit=1000))


def test_asking_stops_when_the_case_is_clear(session: Session) -> None:
    standing = session.settled()
    assert standing.asking
    assert standing.text.startswith("Still open")
    for look, answer in (
        ("cavity-wall", "smooth"), ("beside-core", "at-a-core"), ("cavity-trail", "trail-to-core"),
        ("runs-with", "one-core-batch"), ("vents-at-pour", "little-flame"),
        ("since-change", "nothing-changed"),
    ):  # fmt: skip
        session.answer(look, answer)
    session.check("core-vent-open", "blocked")
    rivals = {cause.id for cause in session.causes()[1:80]}
    others = [
        name
        for name, check in session.book.checks.items()
        if rivals & check.reveals.keys() and "core-vent-blocked" not in check.reveals
    ]
    for check in (
        "core-vent-made", "core-vent-leads-out", "core-baked-through", "core-kept-dry",
        "core-sand-as-card", "core-binder-weighed", "core-wash-dry", "core-paste-dry",
        *others,
    ):  # fmt: skip
        bad = session.book.checks[check].bad
        session.check(check, next(a for a in session.book.checks[check].answers if a != bad))
    first = session.causes()[0]
    assert first.id == "core-vent-blocked"
    assert first.probability > CERTAIN
    assert not session.settled().asking
    assert session.settled().text == "Settled: core vent blocked."
    assert not any(question.worth for question in session.ask_next())


def test_asking_stops_when_nothing_is_left(session: Session) -> None:
    for question in session.ask_next(limit=1000):
        session.unsure(question.id)
    for look in session.book.looks:
        session.unsure(look)
    assert session.ask_next() == []
    assert session.would_change() == []
    assert session.settled().text == "Undecided, and nothing left to ask is worth its cost."


def test_the_last_few_questions_cost_more_than_they_bring(session: Session) -> None:
    told = {question.id: question.worth for question in session.ask_next(limit=1000)}
    worth = [told[prospect.id] for prospect in session.prospects]
    assert worth == sorted(worth, reverse=True)
    floor = session.book.scale.worth_asking
    for question in session.ask_next(limit=1000):
        assert question.worth == (rate(session, question) >= floor)


def test_what_follows_from_readings_is_not_asked_for(session: Session) -> None:
    assert "carbon-equivalent" in {question.id for question in session.ask_next(limit=300)}
    for name, text in (("carbon", "3.3 %"), ("silicon", "2.0 %"), ("phosphorus", "0.05 %")):
        session.measure(name, text)
    assert "carbon-equivalent" not in {question.id for question in session.ask_next(limit=300)}
    assert session.question("carbon-equivalent").unit == "%"
