"""Readings taken on the casting: sights with a number.

That such a reading names its fault is common practice, no source; the limits are ours.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from diagnose.engine.findings import band_likelihood
from diagnose.reasoning.asking import prospects
from diagnose.reasoning.sighted import band_ends, shown_by, sight_of
from diagnose.reject.found import MEASUREMENT
from diagnose.rulebase.bands import edge, written
from diagnose.rulebase.book import Window
from diagnose.session.library import Library
from diagnose.session.session import Session
from diagnose.words.training.prepare import classes_of


def shares(session: Session) -> list[tuple[str, float]]:
    return [(share.id, share.probability) for share in session.defects()]


@pytest.mark.parametrize(
    ("metal", "section", "name", "text", "fault"),
    [
        ("ductile iron", 20, "nodularity", "40 %", "poor-nodularity"),
        ("ductile iron", 15, "nodularity", "55 %", "poor-nodularity"),
        ("grey iron", 12, "bar-strength", "160 MPa", "soft-iron"),
        ("grey iron", 12, "strength of the test bar", "160 N/mm2", "soft-iron"),
        ("grey iron", 12, "brinell-hardness", "262", "mass-hardness"),
        ("grey iron", 15, "step at the joint", "2 mm", "shift"),
        ("grey iron", 15, "step at the joint", "0.08 in", "shift"),
        ("grey iron", 12, "contraction-found", "1.35 %", "undersize"),
        ("grey iron", 15, "wall-under-over-core", "4 mm", "core-raised"),
        ("grey iron", 15, "wall-beside-core", "4 mm", "core-shift"),
        ("grey iron", 15, "casting-bow", "5 mm", "warped"),
        ("grey iron", 15, "machining-stock", "-1 mm", "stock-short"),
    ],
)
def test_the_reading_alone_puts_its_fault_first(
    start: Callable[..., Session], metal: str, section: float, name: str, text: str, fault: str
) -> None:
    session = start()
    session.about(metal=metal, section=section)
    before = dict(shares(session))[fault]
    session.measure(name, text)
    (first, best), (_, second) = shares(session)[:2]
    assert first == fault
    assert best > 1.4 * second
    assert best > 8.0 * before


def test_poor_nodularity_comes_far_ahead(start: Callable[..., Session]) -> None:
    """Of the fault that it defines, 40 % leaves no doubt; all the rest is other flaws beside it."""
    session = start()
    session.about(metal="ductile iron", section="20 mm")
    session.measure("nodularity", "40 %")
    (_, best), (_, second) = shares(session)[:2]
    assert best > 0.6
    assert best > 10.0 * second


@pytest.mark.parametrize(
    ("metal", "name", "text"),
    [
        ("ductile iron", "nodularity", "92 %"),
        ("grey iron", "brinell-hardness", "190"),
        ("grey iron", "bar-strength", "225 MPa"),
        ("grey iron", "joint-step", "0.3 mm"),
        ("grey iron", "contraction-found", "0.95 %"),
    ],
)
def test_a_reading_within_its_window_hardly_moves_the_rest(
    start: Callable[..., Session], metal: str, name: str, text: str
) -> None:
    session = start()
    session.about(metal=metal, section=15)
    before = session.defects()[0]
    reading = session.measure(name, text)
    assert session.defects()[0].id == before.id
    assert session.defects()[0].probability == pytest.approx(before.probability, abs=0.02)
    assert reading.speaks_for == ()


def test_what_is_heard_of_the_same_sight_counts_once(session: Session) -> None:
    """A weak bar told in words and read off the machine is one fact; common practice, no source."""
    session.about(section=12)
    session.measure("bar-strength", "160 MPa")
    by_machine = session.probabilities.copy()
    session.answer("bar-result", "weak")
    assert session.probabilities == pytest.approx(by_machine)
    session.take_back("bar-strength")
    session.answer("bar-result", "weak")
    assert session.probabilities != pytest.approx(by_machine)


def test_it_is_still_a_reading(session: Session) -> None:
    session.about(section=12)
    session.measure("Brinell hardness of the casting", "262")
    (reading,) = session.readings()
    assert (reading.words, reading.low, reading.high) == ("above its window", 150.0, 230.0)
    assert reading.speaks_for[0] == session.book.defects["mass-hardness"].name
    (found,) = session.reject.found
    assert found.kind == MEASUREMENT
    (push,) = session.explain("chromium-high")
    assert push.kind == MEASUREMENT
    assert push.decibans > 3.0
    assert session.unexplained() == []


def test_it_is_asked_as_a_reading_and_not_in_words(start: Callable[..., Session]) -> None:
    session = start()
    session.about(metal="ductile iron", section=15)
    session.call_it("poor-nodularity")
    told = {
        p.id: p
        for p in prospects(session.desk, session.reject, session.evidence, session.probabilities)
    }
    asked = told["nodularity"]
    assert asked.kind == MEASUREMENT
    assert asked.answers == tuple(session.book.measurements["nodularity"].bands)
    assert asked.joint.sum() == pytest.approx(1.0)
    session.measure("nodularity", "60 %")
    left = {
        p.id
        for p in prospects(session.desk, session.reject, session.evidence, session.probabilities)
    }
    assert not left & {"nodularity", "micro-graphite"}


def test_the_window_of_the_shop_moves_the_bands(session: Session) -> None:
    """An iron ordered at 300 MPa is weak at 230; one ordered at 200 is not."""
    book = session.book
    own = replace(book.measurements["bar-strength"], windows=(Window(source=("own",), low=300.0),))
    ordered = replace(book, measurements={**book.measurements, "bar-strength": own})
    stronger = Session(Library(ordered), session.reject)
    for one, best in ((session, "sand-inclusion"), (stronger, "soft-iron")):
        one.about(section=12)
        one.measure("bar-strength", "230 MPa")
        assert one.defects()[0].id == best


def test_a_job_without_a_window_has_no_such_sight(session: Session) -> None:
    session.about(metal="steel", section=15)
    assert "brinell-hardness" not in session.desk.looks
    assert "joint-step" in session.desk.looks


@settings(max_examples=60, deadline=None)
@given(
    value=st.floats(-50, 150),
    limits=st.lists(st.floats(0, 100), min_size=1, max_size=5, unique=True),
    error=st.floats(0.5, 20),
    times=st.integers(1, 4),
)
def test_the_likelihood_is_the_normal_mass_of_each_band(
    value: float, limits: list[float], error: float, times: int
) -> None:
    """Held against scipy; the bands share out all that there is."""
    ends = [-inf, *sorted(limits), inf]
    told = band_likelihood([value] * times, list(pairwise(ends)), error)
    spread = error / times**0.5
    masses = np.diff(norm.cdf(ends, value, spread))
    np.testing.assert_allclose(told, masses, atol=1e-9)
    assert sum(told) == pytest.approx(1.0)


def test_an_end_that_the_job_does_not_have_leaves_no_band_beyond_it(session: Session) -> None:
    hardness = session.book.measurements["brinell-hardness"]
    open_above = Window(source=(), low=150.0)
    ends = band_ends(hardness, open_above)
    assert ends[2] == (150.0, inf)
    assert ends[3] == ends[4] == (inf, inf)
    assert sight_of(hardness, open_above, [300.0], 5.0) == (0.0, 0.0, 1.0, 0.0, 0.0)
    assert edge("0.9 low", Window(source=(), high=1.0), inf) == -inf


def test_what_cannot_be_read_as_an_end() -> None:
    for wrong in ("lowest", "0.9low", "-0.9 low", "low 0.9", ""):
        with pytest.raises(ValueError, match=f"^{wrong}$"):
            written(wrong)


def test_the_reader_of_words_needs_no_class_for_a_band(session: Session) -> None:
    asked = {name.partition("=")[0] for name in classes_of(session.book)}
    banded = {name for name, one in session.book.measurements.items() if one.bands}
    assert len(banded) >= 11
    assert not banded & asked


def test_no_condition_is_told_by_a_reading_on_the_casting(session: Session) -> None:
    for one in session.book.measurements.values():
        assert not (one.bands and (one.low_speaks_for or one.high_speaks_for))


def test_the_faults_that_a_reading_tells_come_best_first(session: Session) -> None:
    session.about(section=12)
    assert shown_by(session.desk, "joint-step", [2.0])[0] == "shift"
    assert shown_by(session.desk, "joint-step", [0.2]) == []
