from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.rulebase.counts import counts
from diagnose.rulebase.load import load
from diagnose.rulebase.reading import draft
from tests import shipped


def test_the_small_book_counted_by_hand(good: Path) -> None:
    assert counts(load(good)) == {
        "defects": 2,
        "root conditions": 2,
        "mechanisms": 1,
        "links": 4,
        "looks": 3,
        "checks": 2,
        "measurements": 1,
        "actions": 2,
        "sources": 2,
        "accounts": 3,
        "largest clique": 1,
        "links by source": {"read": 0.25, "common practice": 0.25, "from memory": 0.5},
    }


def test_the_shares_of_the_shipped_book_add_up() -> None:
    assert sum(counts(shipped.book())["links by source"].values()) == pytest.approx(1.0)


def test_a_circle_leaves_the_accounts_out(good: Path, add: Callable[..., Path]) -> None:
    add(
        "conditions:\n  ring:\n    name: ring\n    area: sand\n    how: So.\n"
        "    source: [shop-book]\n"
        "    leads to: [{to: ring, strength: often, because: So., source: [shop-book]}]\n"
    )
    assert "accounts" not in counts(draft(good).book)
