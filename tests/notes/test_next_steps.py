"""The plan, what is out of order and why, as lines of a note."""

from __future__ import annotations

from diagnose.notes.next_steps import colleague_lines, plan_lines, standing_lines
from diagnose.session.session import Session


def test_the_pump_body(session: Session) -> None:
    session.about(metal="grey iron", process="green sand")
    for look, answer in (("fault-form", "hole"), ("cavity-wall", "smooth")):
        session.answer(look, answer)
    session.answer("beside-core", "at-a-core")
    looks = plan_lines(session)[0]
    assert looks.startswith("1. Look at the casting: ")
    session.check("core-vent-open", "blocked")
    assert plan_lines(session)[0].startswith("1. Put right and try with a casting or two: clear")
    assert standing_lines(session)[0].startswith("Proved: core vent blocked or core made without")
    assert len(plan_lines(session)) <= 8
    assert len(colleague_lines(session)) == 6
