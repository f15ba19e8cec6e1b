"""One reading or an array of them: checked alike."""

from __future__ import annotations

import math

import numpy as np
import pytest

from diagnose.shop.calculation import OutOfRange
from diagnose.shop.series import within


@pytest.mark.parametrize("good", [0.0, 3, 100.0, np.array([0.0, 50.0, 100.0])])
def test_what_lies_inside_passes(good: float) -> None:
    within("moisture", good, "%", 0, 100)


@pytest.mark.parametrize(
    ("bad", "named"),
    [
        (-0.1, "-0.1 %"),
        (100.5, "100.5 %"),
        (math.nan, "nan %"),
        (math.inf, "inf %"),
        (np.array([3.0, -2.0]), "-2 %"),
        (np.array([3.0, 120.0]), "120 %"),
        (np.array([3.0, np.nan]), "nan %"),
    ],
)
def test_what_lies_outside_is_named(bad: float, named: str) -> None:
    with pytest.raises(OutOfRange, match=f"moisture: {named} cannot be; right .* 0 to 100 %"):
        within("moisture", bad, "%", 0, 100)


def test_a_bound_that_does_not_count() -> None:
    with pytest.raises(OutOfRange, match="above 0 s"):
        within("time", 0.0, "s", above=True)
