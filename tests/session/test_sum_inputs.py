"""Readings that the sums take over: by name, in the sum's own unit, and only where they hold."""

from __future__ import annotations

from collections.abc import Callable

from diagnose.basics.quantity import UNITS, unit_named
from diagnose.session.session import Session
from diagnose.session.sum_inputs import offered
from diagnose.shop.calculation import Input, Value
from diagnose.shop.catalogue import calculations
from diagnose.shop.work import named, value_of


def value_in(sum_name: str, wanted: str, text: str) -> Value:
    """Return what the sum makes of a figure that was offered to it, as if it had been typed."""
    (entry,) = (one for one in named(sum_name).inputs if one.name == wanted)
    return value_of(entry, text)


def test_nothing_was_measured_and_nothing_is_offered(session: Session) -> None:
    assert all(offered(session, each) == {} for each in calculations().values())


def test_a_reading_goes_where_the_sum_asks_for_it_by_name(session: Session) -> None:
    session.measure("moulding sand moisture", "4.6 %")
    assert offered(session, named("water-addition")) == {"moisture": "4.6 %"}


def test_several_readings_go_in_as_their_mean(session: Session) -> None:
    session.measure("moulding sand moisture", "4.2; 4.6; 5.0 %")
    assert offered(session, named("water-addition")) == {"moisture": "4.6 %"}


def test_a_reading_is_turned_into_the_unit_of_the_sum(start: Callable[..., Session]) -> None:
    """1400 degC is 2552 degF, however it was typed."""
    given = []
    for text in ("1400 degC", "2552 degF"):
        session = start()
        session.measure("pouring temperature", text)
        given.append({name: offered(session, each) for name, each in calculations().items()})
    assert given[0] == given[1]
    assert any(given[0].values())


def measured(session: Session, share: float) -> Session:
    """Everything measured, at so much of the way from the least to the greatest that can be."""
    for name, entry in session.book.measurements.items():
        low, high = entry.possible
        session.measure(name, f"{low + share * (high - low)!r} {entry.unit}")
    return session


def test_what_is_offered_can_be_worked_with(start: Callable[..., Session]) -> None:
    """Every input takes what it is offered; what a sum does not hold for is not offered to it."""
    count = {}
    for share in (0.3, 0.999):
        session = measured(start(), share)
        figures = [
            value_in(each.name, wanted, text)
            for each in calculations().values()
            for wanted, text in offered(session, each).items()
        ]
        count[share] = len(figures)
    assert count[0.3] >= 10
    assert count[0.999] < count[0.3]


def test_an_input_with_a_usual_figure_of_its_own_keeps_it(session: Session) -> None:
    measured(session, 0.5)

    def free(one: Input) -> bool:
        return not (one.table or one.choices or one.default)

    for each in calculations().values():
        asked = {one.name for one in each.inputs if free(one)}
        assert offered(session, each).keys() <= asked


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


def test_a_reading_of_something_like_it_is_not_taken(session: Session) -> None:
    session.measure("moisture of the riser sleeve", "0.2 %")
    session.measure("sulphur of the moulding sand", "0.05 %")
    assert offered(session, named("water-addition")) == {}
    assert offered(session, named("liquidus")) == {}
