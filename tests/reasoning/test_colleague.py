"""Three sentences on a cause: with windows, what does not fit, and what would change it."""

from __future__ import annotations

from diagnose.session.session import Session


def test_wet_sand_is_told_with_its_window(session: Session) -> None:
    session.about(metal="grey iron", process="green sand")
    session.answer("fault-form", "hole")
    session.answer("cavity-wall", "smooth")
    session.measure("moulding sand moisture", "5.8 %")
    told = session.colleague("sand-too-wet")
    assert told.how.startswith("Moulding sand too wet leads to ")
    assert "moisture 5.8 % (window " in told.speaks_for
    assert "first if you found" in told.otherwise
    assert not any("deciban" in part for part in (told.how, told.speaks_for, told.otherwise))


def test_a_figure_that_follows_is_named_as_worked_out(session: Session) -> None:
    session.about(metal="grey iron", process="green sand", section="8 mm")
    session.answer("fault-form", "wrong-metal")
    for name, reading in (("carbon", "3.0 %"), ("silicon", "1.3 %")):
        session.measure(name, reading)
    told = [session.colleague(cause.id).speaks_for for cause in session.causes()[:8] if cause.area]
    assert any("worked out" in text for text in told)


def test_what_does_not_fit_is_said(session: Session) -> None:
    session.about(metal="grey iron", process="green sand")
    session.answer("fault-form", "hole")
    session.answer("beside-core", "at-a-core")
    session.check("core-vent-open", "air-goes-through")
    assert (
        "Does not fit: core vent blown through" in session.colleague("core-vent-blocked").otherwise
    )
