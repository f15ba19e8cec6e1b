"""Proved, acting too, likely, possible: what each word takes, on stories of the trade."""

from __future__ import annotations

from hypothesis import given, settings

from diagnose.reasoning.present import ACTING, LIKELY, POSSIBLE, PROVED, WORDS
from diagnose.session.session import Session
from tests import actions
from tests.actions import act


def pump_body(session: Session) -> Session:
    session.about(metal="grey iron", process="green sand")
    session.answer("fault-form", "hole")
    session.answer("cavity-wall", "smooth")
    session.answer("beside-core", "at-a-core")
    return session


@settings(max_examples=8)
@given(actions.ACTIONS)
def test_every_word_means_what_it_says(done: list[actions.Action]) -> None:
    session = act(actions.session(), done)
    lines = session.standings()
    shares = {cause.id: cause.probability for cause in session.causes()}
    assert [WORDS.index(one.word) for one in lines] == sorted(WORDS.index(o.word) for o in lines)
    named = [name for one in lines for name in one.ids]
    assert len(named) == len(set(named))
    for one in lines:
        assert abs(one.responsible - sum(shares.get(name, 0.0) for name in one.ids)) < 1e-9
        if one.word == "proved":
            assert one.present >= PROVED
            assert one.by
        elif one.word == "acting too":
            assert ACTING <= one.present < PROVED
            assert one.by
        else:
            assert one.responsible >= (LIKELY if one.word == "likely" else POSSIBLE)


def test_no_air_through_the_core_vent_proves_it(session: Session) -> None:
    """Common practice, no source: air that will not pass is the blocked vent itself, or none."""
    before = {one.word for one in pump_body(session).standings()}
    session.check("core-vent-open", "blocked")
    first = session.standings()[0]
    assert "proved" not in before
    assert first.word == "proved"
    assert first.ids == ("core-vent-blocked", "core-unvented")
    assert first.by == ("core-vent-open",)


def test_a_check_that_came_out_well_proves_nothing(session: Session) -> None:
    pump_body(session).check("core-vent-open", "air-goes-through")
    assert all("core-vent-open" not in one.by for one in session.standings())


def test_what_does_not_lead_to_this_fault_is_not_in_the_list(session: Session) -> None:
    session.about(metal="grey iron", process="green sand")
    session.answer("fault-form", "seam")
    session.call_it("cold-shut")
    session.check("core-vent-open", "blocked")
    assert all("core-vent-blocked" not in one.ids for one in session.standings())
