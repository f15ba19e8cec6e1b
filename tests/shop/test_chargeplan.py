"""The charge for a target: solved and mixed again, and told when it cannot be."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.catalogue import calculations
from diagnose.shop.charge import Change, melted, mixed
from diagnose.shop.chargeplan import shares_of_three, shares_of_two

CARBON = {"pig": 4.0, "returns": 3.4, "steel": 0.2}
SILICON = {"pig": 2.0, "returns": 2.2, "steel": 0.3}


@given(st.floats(0, 1), st.floats(0.1, 5), st.floats(0.1, 5))
def test_two_there_and_back(share: float, first: float, second: float) -> None:
    assume(abs(first - second) > 0.01)
    contents = {"first": first, "second": second}
    target = mixed({"first": share, "second": 1 - share}, contents)
    found = shares_of_two(contents, target)
    assert found["first"] == pytest.approx(share, abs=1e-6)
    assert mixed(found, contents) == pytest.approx(target)


@given(st.floats(0, 1), st.floats(0, 1))
def test_three_there_and_back_and_as_a_library_solves_it(one: float, two: float) -> None:
    low, high = sorted((one, two))
    shares = dict(zip(CARBON, (low, high - low, 1 - high), strict=True))
    targets = mixed(shares, CARBON), mixed(shares, SILICON)
    found = shares_of_three(CARBON, SILICON, *targets)
    assert list(found.values()) == pytest.approx(list(shares.values()), abs=1e-9)
    rows = np.array([list(CARBON.values()), list(SILICON.values()), [1.0, 1.0, 1.0]])
    assert list(found.values()) == pytest.approx(np.linalg.solve(rows, [*targets, 1.0]), abs=1e-9)


def test_says_what_the_materials_reach() -> None:
    with pytest.raises(OutOfRange, match=r"reach from 1\.6 to 2\.2 %"):
        shares_of_two({"pig": 2.2, "scrap": 1.6}, 2.5)
    with pytest.raises(OutOfRange, match="less than nothing of pig"):
        shares_of_three(CARBON, SILICON, 3.0, 1.99)
    with pytest.raises(OutOfRange, match="lie on one line"):
        shares_of_three(CARBON, CARBON, 3.0, 3.0)
    with pytest.raises(OutOfRange, match="hold the same"):
        shares_of_two({"pig": 2.0, "scrap": 2.0}, 2.0)


def test_wants_the_right_number_of_materials() -> None:
    with pytest.raises(OutOfRange, match="3 materials; right would be two"):
        shares_of_two(CARBON, 3.0)
    with pytest.raises(OutOfRange, match="same three materials"):
        shares_of_three(CARBON, {"pig": 2.0}, 3.0, 2.0)


def test_gain_and_loss_are_allowed_for() -> None:
    # Textbook allowances (read): carbon +0.15 %, silicon -10 %.
    worked = calculations()["charge-of-three"].run(
        contents=CARBON, others=SILICON, target=3.4, other_target=1.75, gain=0.15, other_loss=10
    )
    shares = {
        line.split(": ")[0]: float(line.split(": ")[1].split(" ")[0])
        for line in worked.working
        if line.split(":")[0] in CARBON
    }
    assert melted(mixed(shares, CARBON), Change(gain=0.15)) == pytest.approx(3.4, abs=0.002)
    assert melted(mixed(shares, SILICON), Change(loss=10)) == pytest.approx(1.75, abs=0.002)
    assert worked.value == pytest.approx(shares["pig"], abs=0.01)


def test_a_target_below_the_gain_cannot_be() -> None:
    with pytest.raises(OutOfRange, match=r"impossible: the charge would have to hold -0\.05 %"):
        calculations()["charge-of-two"].run(contents={"a": 0.1, "b": 0.3}, target=0.1, gain=0.15)
