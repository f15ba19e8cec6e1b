"""Sand that goes round."""

from __future__ import annotations

import pytest

from diagnose.shop.catalogue import calculations


def test_holding_and_settling_are_two_sides_of_one_balance() -> None:
    sums = calculations()
    added = sums["addition-to-hold"].run(level=8, renewed=5, burnt=10).value
    assert sums["steady-level"].run(added=added, renewed=5, burnt=10).value == pytest.approx(8)
    late = sums["level-after-rounds"].run(start=2, rounds=500, added=added, renewed=5, burnt=10)
    assert late.value == pytest.approx(8)


def test_how_slowly_a_sand_changes_is_told() -> None:
    # 5 % renewed: 0.95^13.5 = 1/2.
    worked = calculations()["renewal-to-hold"].run(level=4, grown=0.2)
    assert worked.working[-1] == "half of any change shows after 13.51 rounds"
    assert calculations()["steady-level"].run(added=1, renewed=100).working[-1] == (
        "it settles at once"
    )


def test_what_does_not_grow_wants_no_new_sand() -> None:
    worked = calculations()["renewal-to-hold"].run(level=4, grown=0)
    assert worked.value == 0
    assert worked.working[-1] == "nothing leaves, and nothing has to"
