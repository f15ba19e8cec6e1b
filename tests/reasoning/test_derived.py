"""Sums worked from readings: the value against the sum itself, the error against the textbook.

The law of propagation of independent errors: JCGM 100:2008, "Guide to the expression of
uncertainty in measurement", section 5.1 (from memory).
"""

from __future__ import annotations

import math

import pytest

from diagnose.reasoning.derived import Known, aim, mean_of, turned, work_sum
from diagnose.rulebase.book import Sum, Window
from diagnose.shop.catalogue import calculations
from tests import shipped

BOOK = shipped.book()


def window(low: float | None, high: float | None) -> Window:
    return Window(source=("common practice",), low=low, high=high)


def equivalent() -> Sum:
    rule = BOOK.measurements["carbon-equivalent"].worked_out
    assert rule is not None
    return rule


def test_the_mean_of_many_readings_is_surer_than_one() -> None:
    moisture = BOOK.measurements["sand-moisture"]
    one, four = mean_of(moisture, (4.0,)), mean_of(moisture, (3.8, 4.2, 3.9, 4.1))
    assert (one.value, one.error) == (4.0, moisture.repeatability)
    assert four.value == pytest.approx(4.0)
    assert four.error == pytest.approx(moisture.repeatability / 2)


def test_a_window_aims_at_its_middle_or_its_only_end() -> None:
    assert aim(window(3.0, 4.0)) == 3.5
    assert aim(window(3.0, None)) == 3.0
    assert aim(window(None, 0.0)) == 0.0
    assert aim(window(None, None)) is None
    assert aim(None) is None


def test_a_sum_of_readings_is_that_sum_and_its_error_the_root_of_the_squares() -> None:
    """Carbon equivalent: 1 of the carbon, 1/3 of the silicon, so the errors weigh alike."""
    rule = equivalent()
    known = {
        rule.takes["carbon"]: Known(3.4, 0.05),
        rule.takes["silicon"]: Known(2.1, 0.06),
    }
    found = work_sum(BOOK, rule, known, {})
    assert found is not None
    worked, error = found
    alone = calculations()[rule.by].run(carbon=3.4, silicon=2.1, **rule.given)
    assert worked.value == pytest.approx(alone.value)
    assert error == pytest.approx(math.hypot(0.05, 0.06 / 3), rel=1e-6)


def test_a_reading_that_lacks_leaves_the_sum_unworked() -> None:
    rule = equivalent()
    assert work_sum(BOOK, rule, {rule.takes["carbon"]: Known(3.4, 0.05)}, {}) is None
    assert work_sum(BOOK, rule, {}, {}) is None


def test_readings_for_which_the_sum_does_not_hold_leave_it_unworked() -> None:
    rule = equivalent()
    known = {rule.takes["carbon"]: Known(40.0, 0.05), rule.takes["silicon"]: Known(2.1, 0.06)}
    assert work_sum(BOOK, rule, known, {}) is None


def test_units_are_turned_where_they_differ_and_left_where_they_are_unknown() -> None:
    assert turned(100.0, "degC", "degF") == pytest.approx(212.0)
    assert turned(3.0, "AFS", "AFS") == 3.0
    assert turned(3.0, "no such unit", "mm") == 3.0


def test_every_sum_of_the_book_can_be_worked_from_the_middle_of_its_readings() -> None:
    rules = [m.worked_out for m in BOOK.measurements.values() if m.worked_out is not None]
    assert len(rules) >= 3
    worked = 0
    for rule in rules:
        windows = {
            name: BOOK.measurements[name].windows
            for name in (*rule.takes.values(), *rule.aims.values())
        }
        aims = {name: aim(found[0]) if found else None for name, found in windows.items()}
        known = {name: Known(aims[name] or 1.0, 0.0) for name in rule.takes.values()}
        found = work_sum(BOOK, rule, known, aims)
        worked += found is not None
        assert found is None or found[1] == 0.0
    assert worked >= len(rules) / 2
