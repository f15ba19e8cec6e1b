"""The elements as inputs."""

from __future__ import annotations

from diagnose.shop.elements import NICKEL, PHOSPHORUS, or_none


def test_an_element_left_out_counts_as_nil() -> None:
    assert or_none(PHOSPHORUS).default == 0
    assert PHOSPHORUS.default is None
    assert NICKEL.default == 0
