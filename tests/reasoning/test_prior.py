"""What the book says before anything is known: shares of causes add up, and are what was put in."""

from __future__ import annotations

import pytest

from diagnose.reasoning.prior import shares_of_causes
from diagnose.reasoning.setup import set_up
from diagnose.rulebase.job import Job
from diagnose.rulebase.load import load
from tests.notes.rejects import SMALL_BOOK


def test_the_shares_of_a_small_book_are_those_worked_out_by_hand() -> None:
    """Base rate times strengths, scaled to what "none of these" leaves: reckoned by hand."""
    desk = set_up(load(SMALL_BOOK), Job())
    shares = shares_of_causes(desk)
    book = desk.book
    weights = {(account.defect, account.root): 0.0 for account in desk.accounts}
    for account in desk.accounts:
        weight = book.figure(book.conditions[account.root].base_rate or 0.0, base_rate=True)
        for link in account.links:
            assert not link.needs
            weight *= book.figure(link.strength)
        weights[account.defect, account.root] += weight
    whole = sum(weights.values())
    for (defect, root), weight in weights.items():
        expected = (1 - book.scale.none_of_these) * weight / whole
        assert shares[defect][root] == pytest.approx(expected)


def test_a_fault_that_is_seldom_scrapped_weighs_little(monkeypatch: pytest.MonkeyPatch) -> None:
    from dataclasses import replace

    book = load(SMALL_BOOK)
    name = next(iter(book.defects))
    dressed = replace(book.defects[name], scrapped=0.1)
    before = shares_of_causes(set_up(book, Job()))
    after = shares_of_causes(set_up(replace(book, defects=book.defects | {name: dressed}), Job()))
    other = next(defect for defect in before if defect != name)
    ratio_before = sum(before[name].values()) / sum(before[other].values())
    ratio_after = sum(after[name].values()) / sum(after[other].values())
    assert ratio_after == pytest.approx(0.1 * ratio_before)
