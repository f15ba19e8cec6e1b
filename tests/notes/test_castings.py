"""How many good castings verify a correction, held against scipy's beta-binomial distribution.

If every share of bad castings is alike before the count, then after ``bad`` of ``of`` the number
of bad ones among the next n is beta-binomial with bad + 1 and good + 1.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import betabinom

from diagnose.notes.castings import CHANCE, castings_in_words, good_in_a_row
from diagnose.reject.ticket import Ticket


@given(st.integers(1, 200), st.integers(0, 2000))
def test_so_many_are_enough_and_one_less_is_not(bad: int, good: int) -> None:
    count = good_in_a_row(bad, bad + good)
    assert betabinom.pmf(0, count, bad + 1, good + 1) <= CHANCE * (1 + 1e-6)
    if count > 1:
        assert betabinom.pmf(0, count - 1, bad + 1, good + 1) > CHANCE * (1 - 1e-6)


@pytest.mark.parametrize(
    ("bad", "of", "says"),
    [
        (6, 40, "21 good ones in a row"),
        (40, 40, "1 good one after"),
        (1, 200, "good ones in a row"),
    ],
)
def test_it_is_said_in_words(bad: int, of: int, says: str) -> None:
    text = castings_in_words(Ticket(bad=bad, of=of))
    assert says in text
    assert text.startswith(f"With {bad} of {of} bad before, ")


@given(st.integers(1, 50), st.integers(0, 5000))
def test_a_large_number_is_rounded_up(bad: int, good: int) -> None:
    said = int(castings_in_words(Ticket(bad=bad, of=bad + good)).split(", ")[1].split()[0])
    needed = good_in_a_row(bad, bad + good)
    assert needed <= said <= 1.2 * needed


def test_without_both_counts_nothing_is_said() -> None:
    assert castings_in_words(Ticket()) == castings_in_words(Ticket(bad=6)) == ""
