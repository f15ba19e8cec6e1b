"""Histories whose cause is known come out near the top: the golden table, with floors.

Where each history is from stands in it (``tests/golden/*.yaml``): 36 are published cases, of which
what was read is said there; the others are common practice, no source. Floors lie a little under
what was measured when they were set (``docs/histories.md``).
"""

from __future__ import annotations

from collections import Counter

import pytest

from diagnose.session.session import Session
from tests import shipped
from tests.golden import pareto
from tests.golden.score import History, Score, answered, histories, scores, summary, worked

BOOK = shipped.book()
TOLD = histories()


@pytest.fixture(scope="module")
def from_answers(first: Session) -> list[Score]:
    found, unread = scores(first, answered)
    assert unread == []
    return found


@pytest.fixture(scope="module")
def from_phrases(first: Session) -> list[Score]:
    return scores(first, worked)[0]


def test_there_are_enough_of_them() -> None:
    assert len(TOLD) >= 80
    assert sum(history.published for history in TOLD) >= 25
    assert sum(history.held_out for history in TOLD) >= len(TOLD) / 3 - 1
    assert len({history.id for history in TOLD}) == len(TOLD)
    assert {history.area for history in TOLD} == {*BOOK.areas}


@pytest.mark.parametrize("history", TOLD, ids=lambda history: history.id)
def test_a_history_names_what_is_in_the_book_and_where_it_is_from(history: History) -> None:
    roots = {n for n, condition in BOOK.conditions.items() if condition.base_rate is not None}
    assert {*history.cause} <= roots
    assert {*history.defect} <= {*BOOK.defects}
    assert BOOK.conditions[history.cause[0]].area == history.area
    assert history.tells
    assert history.published == bool(history.url)


@pytest.mark.parametrize(
    ("held_out", "cause_first", "cause_in_three", "fault_first"),
    [(False, 0.68, 0.8, 0.84), (True, 0.65, 0.8, 0.82)],
)
def test_from_exact_answers(
    from_answers: list[Score],
    *,
    held_out: bool,
    cause_first: float,
    cause_in_three: float,
    fault_first: float,
) -> None:
    found = summary([one for one in from_answers if one.history.held_out == held_out])
    assert found["cause first"] >= cause_first
    assert found["cause in three"] >= cause_in_three
    assert found["fault first"] >= fault_first


@pytest.mark.parametrize(
    ("held_out", "cause_in_three", "fault_in_three"), [(False, 0.7, 0.85), (True, 0.36, 0.42)]
)
def test_from_plain_phrases(
    from_phrases: list[Score], *, held_out: bool, cause_in_three: float, fault_in_three: float
) -> None:
    found = summary([one for one in from_phrases if one.history.held_out == held_out])
    assert found["cause in three"] >= cause_in_three
    assert found["fault in three"] >= fault_in_three


def test_what_is_said_to_be_sure_is_right(from_answers: list[Score]) -> None:
    """Where the true cause does not come first, the program must not have been sure of another."""
    wrong = [one for one in from_answers if one.cause > 1]
    assert sum(one.probability > 0.01 for one in wrong) > 0.6 * len(wrong)


def test_the_orders_of_published_scrap_tables_and_of_the_book_agree_more_than_not() -> None:
    agreed = [pareto.rank_correlation(lines) for _, lines in pareto.by_table() if len(lines) > 2]
    assert len(agreed) >= 4
    assert sum(agreed) / len(agreed) > 0.2


def test_sand_comes_before_all_else_as_in_most_of_the_published_tables() -> None:
    first = Counter(max(lines, key=lambda line: line.book).called for _, lines in pareto.by_table())
    assert sum(n for called, n in first.items() if "sand" in called or "slag" in called) >= 4
