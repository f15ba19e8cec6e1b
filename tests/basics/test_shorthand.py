"""Readings as shops jot them down: arithmetic, no source."""

from __future__ import annotations

import pytest

from diagnose.basics.errors import Fault
from diagnose.basics.shorthand import read_jotted

WALL = (1.0, 600.0)
POURED = (1100.0, 1600.0)


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("12 mm", (12.0,)),
        ("12", (12.0,)),
        ("~12", (12.0,)),
        ("about 1.2 cm", (12.0,)),
        ("abt. 12 mm", (12.0,)),
        ("\u2264 12 mm", (12.0,)),
        ("10-12 mm", (10.0, 12.0)),
        ("10 to 12", (10.0, 12.0)),
        ("10; 11; 12 mm", (10.0, 11.0, 12.0)),
        ("10, 11 and 12", (10.0, 11.0, 12.0)),
        ("1 1/2 in", (38.1,)),
        ("1-1/2 in", (38.1,)),
        ('3/4"', (19.05,)),
        ("\u00be in", (19.05,)),
        ("1\u00bd in", (38.1,)),
        ("12,5 mm", (12.5,)),
    ],
)
def test_lengths(text: str, millimetres: tuple[float, ...]) -> None:
    assert read_jotted(text, "mm", "wall", WALL) == pytest.approx(millimetres)


@pytest.mark.parametrize(
    ("text", "ratio"),
    [("1:4", 0.25), ("1 to 4", 0.25), ("1 in 4", 0.25), ("2 kg : 8 kg", 0.25), ("25 %", 0.25),
     ("25%", 0.25), ("0,5:2", 0.25)],
)  # fmt: skip
def test_ratios(text: str, ratio: float) -> None:
    assert read_jotted(text, "ratio", "gates", (0.0, 9.0)) == pytest.approx((ratio,))


def test_a_ratio_of_two_kinds_or_to_nothing_is_none() -> None:
    for text in ("2 kg : 8 mm", "1:0"):
        with pytest.raises(Fault):
            read_jotted(text, "ratio", "gates", (0.0, 9.0))


def test_a_number_without_a_unit_is_taken_only_where_it_can_be_one() -> None:
    assert read_jotted("1350", "degC", "temperature", POURED) == (1350.0,)
    with pytest.raises(Fault, match="unit"):
        read_jotted("2462", "degC", "temperature", POURED)


def test_one_number_that_cannot_be_leaves_all_of_them_without_a_unit() -> None:
    with pytest.raises(Fault, match="unit"):
        read_jotted("1350; 2462", "degC", "temperature", POURED)


def test_words_are_no_number() -> None:
    for text in ("", "about", "wet", "12 furlongs", "1/2/3 mm"):
        with pytest.raises(Fault):
            read_jotted(text, "mm", "wall", WALL)
