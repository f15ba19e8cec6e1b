"""One library for all sessions of a run: what it shares, and how much it keeps."""

from __future__ import annotations

import pytest

from diagnose.reasoning.setup import section_limits, window_for
from diagnose.reject.reject import Reject
from diagnose.rulebase.job import Job
from diagnose.session.library import DESKS, Library
from diagnose.session.session import Session


@pytest.fixture
def library(first: Session) -> Library:
    return Library(first.book, first.library._key)


def test_sections_under_which_the_same_holds_share_one_desk(library: Library) -> None:
    limits = section_limits(library.book)
    assert limits
    desks = {
        id(library.desk(Job("grey iron", "green sand", section)))
        for section in (limits[-1] + 1.0, limits[-1] + 7.0, limits[-1] + 300.0)
    }
    assert len(desks) == 1


@pytest.mark.parametrize("beside", [0.01, 0.5])
def test_a_limit_is_never_crossed(library: Library, beside: float) -> None:
    """Every limit of the book from below, on it and from above: the window stays the same."""
    for limit in section_limits(library.book)[:3]:
        for section in (limit - beside, limit, limit + beside):
            desk = library.desk(Job("grey iron", "green sand", section))
            exact = Job("grey iron", "green sand", section)
            for measurement in library.book.measurements.values():
                assert desk.window(measurement) == window_for(measurement, exact)


def test_only_the_last_few_desks_are_kept(library: Library) -> None:
    metals = [*library.book.metals][: DESKS + 2]
    first = library.desk(Job(metals[0]))
    for metal in metals[1:]:
        library.desk(Job(metal))
        assert len(library._desks) <= DESKS
        assert library.desk(Job(metals[0])) is first  # used again and again, so it stays


def test_the_reader_is_shared_whoever_needs_it_first(library: Library) -> None:
    one = Session(library, Reject())
    other = one.another()
    assert other.reader is one.reader
    assert other.another().library is library
