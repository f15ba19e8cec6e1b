"""Which readings of a reject answer what a sum asks for."""

from __future__ import annotations

from diagnose.basics.quantity import UNITS, unit_named
from diagnose.session.session import Session
from diagnose.session.sum_inputs import offered
from diagnose.shop.catalogue import calculations
from diagnose.shop.work import named


def test_every_reading_that_a_sum_names_is_one_of_the_book(session: Session) -> None:
    """The sums know no rule base; a measurement that is renamed has to be renamed there too."""
    known = {
        name: one.unit
        for one in session.book.measurements.values()
        for name in (one.name, *one.also)
    }
    asked = [one for each in calculations().values() for one in each.inputs if one.reading]
    assert len(asked) > 40
    for one in asked:
        unit = unit_named(one.unit) or one.unit
        theirs = known[one.reading]
        assert UNITS[unit].kind == UNITS[theirs].kind if unit in UNITS else unit == theirs


def test_a_reading_goes_in_with_its_unit_turned(session: Session) -> None:
    session.measure("pouring temperature", "2400 degF")
    assert offered(session, named("fluidity"))["temperature"] == "1316 degC"


def test_a_reading_of_something_like_it_is_not_taken(session: Session) -> None:
    session.measure("moisture of the riser sleeve", "0.2 %")
    session.measure("sulphur of the moulding sand", "0.05 %")
    assert offered(session, named("water-addition")) == {}
    assert offered(session, named("liquidus")) == {}


def test_what_the_sum_refuses_is_not_offered(session: Session) -> None:
    """The reading can be, but the sum does not hold there."""
    session.measure("moulding sand moisture", "4.6 %")
    assert offered(session, named("water-addition")) == {"moisture": "4.6 %"}
    wanted = next(one for one in named("hardness-window").inputs if one.name == "hardness")
    assert [*wanted.problems(wanted.high + 1)]
