"""Names and sections of rejects as people write them: common practice, no source."""

from __future__ import annotations

import pytest

from diagnose.basics.errors import Fault
from diagnose.reject.name_and_section import LONGEST_NAME, name_of, section_of


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [("8 mm", 8.0), ("0.5 in", 12.7), ("1/2 in", 12.7), ("3/4 in", 19.05), (8, 8.0), (8.5, 8.5),
     ("1 mm", 1.0), ("1 m", 1000.0), ("2,5 cm", 25.0)],
)  # fmt: skip
def test_a_section_in_the_units_of_the_shop(text: str | float, millimetres: float) -> None:
    assert section_of(text) == pytest.approx(millimetres)


@pytest.mark.parametrize(
    "text",
    [
        "0.9 mm", "1001 mm", 0.99, 1000.1, "2 m", "1/0 in", "thick", "", "\u00b2/2 in",
        "1/\u00b2 in", f"{'7' * 4000}/2 in", f"1/{'7' * 5000} in", "1e999 mm",
    ],
)  # fmt: skip
def test_a_section_that_cannot_be_is_refused(text: str | float) -> None:
    with pytest.raises(Fault):
        section_of(text)


def test_a_reject_has_one_section() -> None:
    with pytest.raises(Fault, match="one ruling section"):
        section_of("8; 10 mm")


def test_a_name_is_one_line_and_not_too_long() -> None:
    assert name_of("  cover\n 7 ") == "cover 7"
    assert name_of("x" * LONGEST_NAME) == "x" * LONGEST_NAME
    with pytest.raises(Fault, match=f"has {LONGEST_NAME + 1} characters"):
        name_of("x" * (LONGEST_NAME + 1))
