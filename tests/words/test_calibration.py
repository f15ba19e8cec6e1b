"""Curves from numbers to probabilities."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from diagnose.words.calibration import Curve, Questions

CLASSES = ["wall=smooth", "place=cope", "wall=jagged", "place=drag", "size=big"]


@given(
    st.lists(
        st.lists(st.floats(-9, 9), min_size=len(CLASSES), max_size=len(CLASSES)),
        min_size=1,
        max_size=4,
    )
)
def test_features_are_those_of_the_part_that_says_a_class_best(rows: list[list[float]]) -> None:
    """By hand, class by class; the classes of one question need not stand together."""
    logits = np.array(rows)
    table, part = Questions(CLASSES).features(logits)
    for k, name in enumerate(CLASSES):
        best = int(logits[:, k].argmax())
        row = logits[best]
        rivals = [
            row[other]
            for other, twin in enumerate(CLASSES)
            if other != k and twin.split("=")[0] == name.split("=")[0]
        ]
        assert row[k] == logits[part[k], k]
        assert table[k, 0] == row[k]
        if rivals and max(rivals) != row[k]:
            assert table[k, 1] == np.clip(row[k] - max(rivals), -6, 6)
        assert table[k, 2] == np.clip(row[k] - row.max(), -12, 0)


def test_a_curve_is_the_logistic_function() -> None:
    curve = Curve((2.0, 0.0, 0.0, -1.0))
    np.testing.assert_allclose(
        curve(np.array([[0.5, 3.0, -2.0], [1.5, 0.0, 0.0]])), [0.5, 1 / (1 + np.exp(-2.0))]
    )
