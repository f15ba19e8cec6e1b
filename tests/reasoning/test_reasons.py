"""Why the causes stand as they do: each figure against its definition."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.reasoning.reasons import weight_in_words
from diagnose.reasoning.setup import NONE
from diagnose.session.session import Session
from tests import actions
from tests.actions import act


def odds(session: Session, cause: str) -> float:
    p = next(found.probability for found in session.causes() if found.id == cause)
    return math.log10(p / (1 - p))


@settings(max_examples=10)
@given(st.lists(actions.FINDINGS, min_size=1, max_size=4), st.integers(0, 50))
def test_decibans_are_the_change_of_the_odds(done: list[actions.Action], place: int) -> None:
    """I. J. Good's weight of evidence: ten times the common logarithm of the odds' change.

    A finding's push is how far the odds of a cause fall when that finding alone is left out.
    """
    session = act(actions.session(), done)
    cause = session.causes()[place % len(session.causes())].id
    with_all = odds(session, cause)
    for push in session.explain(cause):
        without = session.another(session.reject)
        without.take_back(push.entry)
        assert push.decibans == pytest.approx(10 * (with_all - odds(without, cause)), abs=1e-6)
        if push.words != weight_in_words(push.decibans):  # a sign of something else, not against
            assert push.decibans < 0
            assert push.words == f"points also to {' or '.join(push.besides)}"


@pytest.mark.parametrize(
    ("decibans", "words"),
    [
        (0.0, "says next to nothing"),
        (0.49, "says next to nothing"),
        (-0.5, "speaks slightly against"),
        (3.0, "speaks for"),
        (-7.0, "speaks strongly against"),
        (15.0, "speaks very strongly for"),
        (math.inf, "speaks very strongly for"),
    ],
)
def test_weights_in_words(decibans: float, words: str) -> None:
    assert weight_in_words(decibans) == words


def test_the_biggest_push_comes_first(session: Session) -> None:
    session.answer("cavity-wall", "smooth")
    session.check("core-vent-open", "blocked")
    session.measure("sand-moisture", "3.9 %")
    session.unsure("cavity-contents")
    pushes = session.explain("core-vent-blocked")
    assert pushes[0].entry == "core-vent-open"
    sizes = [abs(push.decibans) for push in pushes]
    assert sizes == sorted(sizes, reverse=True)
    assert {push.entry for push in pushes} == {"cavity-wall", "core-vent-open", "sand-moisture"}


@settings(max_examples=8)
@given(st.lists(actions.FINDINGS, min_size=1, max_size=4))
def test_what_would_change_the_verdict_does(done: list[actions.Action]) -> None:
    session = act(actions.session(), done)
    first = session.causes()[0].name
    changes = session.would_change()
    assert [change.minutes for change in changes] == sorted(change.minutes for change in changes)
    for change in changes:
        assert change.leads_to != first
        if change.question in session.book.measurements:
            continue
        other = session.another(session.reject)
        is_look = change.question in session.book.looks
        (other.answer if is_look else other.check)(change.question, change.answer)
        assert other.causes()[0].name == change.leads_to


def test_the_mechanism_is_told_from_cause_to_fault(session: Session) -> None:
    session.call_it("blow-core-gas")
    steps = session.mechanism("core-vent-blocked")
    best = next(a for a in session.accounts(None) if a.path[0] == "core-vent-blocked")
    assert len(steps) == len(best.path) - 1
    assert all(re.fullmatch(r"[A-Z].+", step) for step in steps)
    assert session.mechanism(NONE) == []


def test_answers_that_exclude_each_other_are_told(session: Session) -> None:
    session.answer("fault-form", "seam")
    assert session.contradictions() == []
    session.answer("cavity-wall", "smooth")
    told = session.warnings()
    assert any("exclude each other: one of them must be wrong" in warning for warning in told)
    session.answer("fault-form", "hole")
    assert not any("exclude" in warning for warning in session.warnings())


def test_a_finding_that_hardly_goes_with_the_rest_is_told(session: Session) -> None:
    for look, answer in (
        ("fault-form", "hole"), ("cavity-wall", "dendritic"), ("cavity-depth", "deep-inside"),
        ("kind-of-spot", "heavy-junction"), ("riser-top", "flat-or-full"),
    ):  # fmt: skip
        session.answer(look, answer)
    assert session.contradictions() == []
    session.call_it("shift")
    (told,) = session.contradictions()
    assert re.match(r"“called it: shift.*” hardly goes with the rest .* look again\.", told)


def test_one_finding_alone_contradicts_nothing(session: Session) -> None:
    session.answer("cavity-colour", "black")
    assert session.contradictions() == []


def test_a_reading_out_of_its_window_that_explains_nothing_is_told(session: Session) -> None:
    session.answer("cavity-trail", "trail-to-core")
    session.check("core-vent-open", "blocked")
    assert session.unexplained() == []
    session.measure("sand-moisture", "7 %")
    (told,) = session.unexplained()
    assert "7 % is above its window but explains little of this reject" in told
    session.take_back("cavity-trail")
    session.take_back("core-vent-open")
    session.answer("mould-at-pour", "boiled-or-spat")
    session.call_it("blow-mould-gas")
    assert session.unexplained() == []


def test_a_clear_case_stays_clear_when_every_figure_is_shaken(session: Session) -> None:
    session.answer("cavity-wall", "smooth")
    shaky = session.stability()
    assert shaky == session.another(session.reject).stability()
    session.answer("cavity-trail", "trail-to-core")
    session.check("core-vent-open", "blocked")
    session.check("core-vent-made", "made")
    firm = session.stability()
    assert firm.share > 0.9
    assert firm.share > shaky.share
    assert shaky.runner_up
    assert (firm.runner_up == "") == (firm.share == 1.0)


def test_the_posterior_is_worked_out_once_and_handed_over(
    session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What explains a reject takes the probabilities that its session has worked out."""
    from diagnose.reasoning import reasons
    from diagnose.session import session as module

    session.answer("cavity-wall", "smooth")
    session.check("core-vent-open", "blocked")
    times = []
    once = module.posterior
    monkeypatch.setattr(module, "posterior", lambda *given: times.append(1) or once(*given))
    assert not hasattr(reasons, "posterior")
    session.causes(), session.prospects, session.would_change(), session.unexplained()
    session.mechanism("core-vent-blocked"), session.stability()
    assert session.reasons.probabilities is session.probabilities
    assert times == [1]
