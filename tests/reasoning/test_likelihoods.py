"""The tables of the looks: by hand for the small book, by what must hold for the shipped one."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from diagnose.reasoning.likelihoods import LookTable, Paths, called_table, look_tables
from diagnose.rulebase.book import Book
from diagnose.session.session import Session
from tests import shipped
from tests.notes.rejects import SMALL_BOOK

CONDITIONS = {"sand-wet": 0, "core-gas": 1, "wall-thin": 2}
DEFECTS = {"blow": 0, "cold-shut": 1}


@pytest.fixture(scope="module")
def small() -> Book:
    from diagnose.rulebase.load import load

    return load(SMALL_BOOK)


def table(small: Book, look: str, conditions: list[int], defect: int) -> LookTable:
    path = Paths(np.array([conditions]), np.array([defect]))
    (found,) = look_tables(small, [look], CONDITIONS, DEFECTS, path)
    return found


def test_answers_that_a_table_leaves_out_share_the_rest_as_is_usual(small: Book) -> None:
    """A blow: smooth 0.92, rough 0.03, so no hole 0.05; 4 % of all is mis-seen as is usual."""
    found = np.exp(table(small, "hole-wall", [0], 0).log_likelihood[:, 0])
    told = np.array([0.92, 0.03, 0.05])
    assert found == pytest.approx(0.96 * told + 0.04 * np.array([0.4, 0.2, 0.4]))


def test_what_says_nothing_of_a_look_leaves_it_as_is_usual(small: Book) -> None:
    found = table(small, "same-spot", [0], 0)
    assert np.exp(found.log_likelihood[:, 0]) == pytest.approx([0.4, 0.6])
    assert np.exp(found.log_likelihood[:, -1]) == pytest.approx([0.4, 0.6])  # none of these


def test_the_condition_on_the_way_that_says_most_holds(small: Book) -> None:
    """Beside a core: 0.92 with core gas in the way, 0.25 with wet sand; the first says more."""
    wet = np.exp(table(small, "near-core", [0, -1], 0).log_likelihood[:, 0])
    both = np.exp(table(small, "near-core", [0, 1], 0).log_likelihood[:, 0])
    assert wet == pytest.approx([0.96 * 0.25 + 0.04 * 0.4, 0.96 * 0.75 + 0.04 * 0.6])
    assert both == pytest.approx([0.96 * 0.92 + 0.04 * 0.4, 0.96 * 0.08 + 0.04 * 0.6])


def test_a_fault_is_called_by_its_name_more_often_than_by_that_of_its_look_alike(
    small: Book,
) -> None:
    rows = called_table(small, DEFECTS, np.array([0, 1])).rows
    assert rows.sum(axis=1) == pytest.approx(1.0)
    scale = small.scale
    assert rows[1, 0] / rows[1, 1] == pytest.approx(scale.named_right / scale.named_look_alike)
    assert rows[0] == pytest.approx([0.5, 0.5])


def test_every_table_of_the_shipped_book_is_a_probability(first: Session) -> None:
    for found in first.desk.model.looks:
        assert (found.rows > 0).all()
        assert found.rows.sum(axis=1) == pytest.approx(1.0)
        assert found.of_account[-1] == 0
        assert found.of_account.max() < len(found.rows)


def test_more_mis_seen_means_less_said(small: Book) -> None:
    blurred = replace(small, scale=replace(small.scale, mis_seen=0.5))
    sharp = np.exp(table(small, "hole-wall", [0], 0).log_likelihood[:, 0])
    dull = np.exp(table(blurred, "hole-wall", [0], 0).log_likelihood[:, 0])
    assert abs(dull - [0.4, 0.2, 0.4]).sum() < abs(sharp - [0.4, 0.2, 0.4]).sum()


def test_the_shipped_looks_say_something_of_some_account() -> None:
    desk = shipped.first().desk
    silent = [
        name
        for name, found in zip(desk.looks, desk.model.looks, strict=True)
        if not found.of_account.any()
    ]
    assert len(silent) < 0.2 * len(desk.looks)
