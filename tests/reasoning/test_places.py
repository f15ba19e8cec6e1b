"""Where a look, a check or a reading is done (common practice, no source)."""

from __future__ import annotations

from diagnose.reasoning.places import BENCH, CASTING, PLACES, no_walk, places, standing
from diagnose.session.session import Session
from tests import shipped


def test_everything_has_its_place() -> None:
    book = shipped.book()
    where = places(book)
    assert where.keys() == {*book.looks, *book.checks, *book.measurements}
    assert {*where.values()} == {*PLACES}
    assert where["core-vent-open"] == "core shop"
    assert where["sand-moisture"] == "sand plant"
    assert where["ladle-skimmed"] == "ladle"
    assert where["fault-form"] == CASTING


def test_the_casting_lies_on_the_bench() -> None:
    assert no_walk(CASTING, BENCH)
    assert not no_walk(CASTING, "core shop")


def test_one_stands_where_the_last_thing_was_found(session: Session) -> None:
    assert standing(session.book, session.reject) == CASTING
    session.check("core-vent-open", "blocked")
    assert standing(session.book, session.reject) == "core shop"
