"""Did it work: sheets before and after with a planted fall, told with its probability.

Planted: core maker B's blows fall from 20 % to 2 % of half the castings; misruns stay as they are.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from diagnose.basics.errors import Fault
from diagnose.basics.layout import plain_text
from diagnose.batch.analyse import read
from diagnose.batch.comparing import Comparison, as_data, compare, told
from diagnose.session.session import Session
from tests.batch.small import write


@pytest.fixture(scope="module", autouse=True)
def no_words() -> Any:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("DIAGNOSE_WORDS", "none")
        yield


def data_of(first: Session, folder: Path, **how: Any) -> Any:
    folder.mkdir()
    sheets = write(folder, **how)
    return read([sheets.scrap], first.library, poured=sheets.poured)


@pytest.fixture(scope="module")
def found(first: Session, tmp_path_factory: pytest.TempPathFactory) -> Comparison:
    folder = tmp_path_factory.mktemp("shops")
    before = data_of(first, folder / "before")
    after = data_of(first, folder / "after", bad_maker=0.02, begin=date(2026, 4, 6), seed=8)
    return compare(before, after, first.book)


def test_a_planted_fall_is_found_and_settled(found: Comparison) -> None:
    blow = next(one for one in found.faults if one.defect == "blow-core-gas")
    assert blow.fell > 0.999
    assert blow.high < 0.6
    assert blow.more == 0
    assert found.patterns == ("P-1", "P-2")
    text = " ".join(plain_text(told(found), 78).split())
    assert "The rate of blow from core gas fell with a probability of over 99.9 %" in text
    assert "That is settled." in text
    assert "does not prove that the action did it" in text


def test_what_did_not_change_is_not_called_a_rise(found: Comparison) -> None:
    data = as_data(found)
    assert data["rose"] == []
    assert "No other fault rose by more than chance." in plain_text(told(found), 78)
    assert data["all"]["fell"] > 0.99
    assert data["before"]["poured"] == data["after"]["poured"] == 1920


def test_turned_round_the_fall_is_a_rise(first: Session, tmp_path: Path) -> None:
    low = data_of(first, tmp_path / "low", bad_maker=0.02)
    high = data_of(first, tmp_path / "high", seed=8)
    turned = compare(low, high, first.book)
    assert as_data(turned)["rose"] == ["blow-core-gas"]
    assert "blow from core gas: from" in plain_text(told(turned), 200)


def test_without_castings_poured_it_says_what_to_give(first: Session, tmp_path: Path) -> None:
    sheets = write(tmp_path)
    data = read([sheets.scrap], first.library)
    with pytest.raises(Fault, match="--poured BEFORE --poured AFTER"):
        compare(data, data, first.book)
