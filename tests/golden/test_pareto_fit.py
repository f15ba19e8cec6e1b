"""The fit of the faults' shares to all published tables: on tables whose answer is known."""

from __future__ import annotations

import numpy as np
import pytest

from tests.golden.pareto_fit import (
    MORE,
    TABLES,
    Table,
    as_sums,
    by_book,
    correlation,
    fitted,
    foretold,
    misses,
    read,
    shares_by_book,
    slopes,
    weights,
)

GIVEN = np.array([0.4, 0.3, 0.2, 0.1])
EACH = np.eye(4)


def table(name: str, published: list[float], works: str = "") -> Table:
    shares = np.array(published)
    return Table(name, works or name, tuple("abcd"), shares / shares.sum(), EACH)


def test_tables_that_say_what_the_book_says_leave_it_alone() -> None:
    factors, _, spread = fitted([table("one", list(GIVEN)), table("two", list(GIVEN))], GIVEN)
    assert np.abs(factors).max() < 1e-6
    assert spread < np.log(2)


def test_many_tables_that_agree_are_followed_and_one_only_in_part() -> None:
    doubled = list(GIVEN * np.array([1, 1, 1, 3]))
    few, _, _ = fitted([table("one", doubled)], GIVEN)
    many, doubt, _ = fitted([table(f"{n}", doubled) for n in range(40)], GIVEN)
    assert many[3] - many[:3].mean() == pytest.approx(np.log(3), rel=0.02)
    assert 0 < few[3] - few[:3].mean() < np.log(3)
    assert doubt.max() < np.log(2)


def test_tables_that_contradict_each_other_leave_the_book_alone_and_are_spread() -> None:
    up, down = GIVEN * np.array([1, 1, 1, 9]), GIVEN / np.array([1, 1, 1, 9])
    factors, _, spread = fitted([table("up", list(up)), table("down", list(down))], GIVEN)
    assert abs(factors[3]) < 0.1
    assert spread > np.log(2)


def test_tables_of_one_works_count_as_one() -> None:
    doubled = list(GIVEN * np.array([1, 1, 1, 3]))
    other = table("other", list(GIVEN))
    four = [table(f"{n}", doubled, "works") for n in range(4)]
    assert weights([*four, other]).tolist() == [0.25] * 4 + [1]
    one, _, _ = fitted([four[0], other], GIVEN)
    same, _, _ = fitted([*four, other], GIVEN)
    assert same == pytest.approx(one, abs=1e-9)


def test_slopes_are_those_of_the_logarithm_of_the_shares() -> None:
    mixed = Table(
        "m", "m", ("ab", "cd"), np.array([0.5, 0.5]), np.array([[1.0, 1, 0, 0], [0, 0, 1, 1]])
    )
    step = 1e-6
    for column in range(4):
        moved = GIVEN * np.exp(step * np.eye(4)[column])
        by_steps = np.log(by_book(mixed, moved) / by_book(mixed, GIVEN)) / step
        assert slopes(mixed, GIVEN)[:, column] == pytest.approx(by_steps, abs=1e-5)


def test_what_was_left_over_is_every_fault_that_no_line_names() -> None:
    entry = {
        "id": "t",
        "rejects": [
            {"called": "sand", "value": 30, "defects": ["a"]},
            {"called": "other", "value": 60, "defects": []},
            {"called": "boxes", "value": 10, "defects": []},
            {"called": "flash", "value": 0, "defects": ["b"]},
        ],
    }
    made = as_sums(entry, ["a", "b", "c"])
    assert made.called == ("sand", "other")
    assert made.published == pytest.approx([1 / 3, 2 / 3])
    assert made.holds.tolist() == [[1, 0, 0], [0, 0, 1]]


def test_the_published_tables_are_nearer_to_the_fit_than_to_the_book() -> None:
    shares = shares_by_book()
    given = np.array(list(shares.values()))
    tables = read(list(shares))
    assert {one.works for one in tables if one.id.startswith("valves")} == {"valves"}
    assert len(tables) > len(read(list(shares), (TABLES,))) > len(read(list(shares), (MORE,))) - 5
    factors, doubts, spread = fitted(tables, given)
    before, after = (
        sum(w * float(one @ one) for w, one in zip(weights(tables), misses(tables, s), strict=True))
        for s in (given, given * np.exp(factors))
    )
    assert after < before
    assert 1.5 < np.exp(spread) < 6  # the tables differ from one another by factors, not by tenths
    assert (doubts > 0).all()
    assert all(-1 <= correlation(one, given) <= 1 for one in tables if len(one.called) > 2)
    assert max(foretold(tables, given)) < np.log(6)


def test_no_fault_lies_clear_of_all_the_tables_together() -> None:
    """Twice its doubt away, a fault would be more or less common than every table can bear."""
    shares = shares_by_book()
    factors, doubts, _ = fitted(read(list(shares)), np.array(list(shares.values())))
    assert (np.abs(factors) < 2 * doubts).all()
