"""Ranks of causes, faults and paths: all of the whole, and the same whole."""

from __future__ import annotations

import numpy as np
import pytest

from diagnose.reasoning.ranking import accounts, causes, defects
from diagnose.reasoning.setup import NONE
from diagnose.session.session import Session


@pytest.fixture(scope="module")
def shares(first: Session) -> np.ndarray:
    """Made-up probabilities of the accounts, no two of them alike."""
    count = len(first.desk.accounts) + 1
    drawn = np.random.default_rng(5).exponential(size=count)
    return np.asarray(drawn / drawn.sum())


def test_causes_share_the_whole_with_none_of_these(first: Session, shares: np.ndarray) -> None:
    found = causes(first.desk, shares)
    by_hand: dict[str, float] = {NONE: float(shares[-1])}
    for account, share in zip(first.desk.accounts, shares[:-1], strict=True):
        by_hand[account.root] = by_hand.get(account.root, 0.0) + float(share)
    assert {one.id: one.probability for one in found if one.probability} == pytest.approx(by_hand)
    assert sum(one.probability for one in found) == pytest.approx(1.0)
    assert [one.probability for one in found] == sorted(
        (one.probability for one in found), reverse=True
    )
    assert next(one for one in found if one.id == NONE).area == ""


def test_faults_share_what_none_of_these_leaves(first: Session, shares: np.ndarray) -> None:
    found = defects(first.desk, shares)
    by_hand: dict[str, float] = dict.fromkeys(first.book.defects, 0.0)
    for account, share in zip(first.desk.accounts, shares[:-1], strict=True):
        by_hand[account.defect] += float(share)
    assert {one.id: one.probability for one in found} == pytest.approx(by_hand)
    assert [one.probability for one in found] == sorted(by_hand.values(), reverse=True)


def test_paths_run_from_the_cause_to_the_fault_the_likeliest_first(
    first: Session, shares: np.ndarray
) -> None:
    found = accounts(first.desk, shares, None)
    assert len(found) == len(first.desk.accounts)
    assert [one.probability for one in found] == sorted(shares[:-1].tolist(), reverse=True)
    best = first.desk.accounts[int(shares[:-1].argmax())]
    assert found[0].path == (*best.path, best.defect)
    assert accounts(first.desk, shares, 3) == found[:3]
