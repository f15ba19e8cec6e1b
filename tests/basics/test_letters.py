"""Letters from outside, and those that may go to a terminal."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from diagnose.basics.errors import Fault, Place, Problem
from diagnose.basics.letters import harmless, readable


@given(st.text())
def test_nothing_harmless_steers_a_terminal(text: str) -> None:
    """ISO/IEC 6429: the controls are 0 to 31, 127 and 128 to 159; new line and tab are wanted."""
    shown = harmless(text)
    assert len(shown) == len(text)
    assert not {ord(c) for c in shown} & {*range(9), *range(11, 32), *range(127, 160)}
    assert all(a == b or b == "?" for a, b in zip(text, shown, strict=True))


@given(st.binary())
def test_any_bytes_are_letters(raw: bytes) -> None:
    text = readable(raw.decode("utf-8", "surrogateescape"))
    assert not any("\ud800" <= c <= "\udfff" for c in text)


def test_a_fault_names_a_file_without_steering_the_terminal() -> None:
    place = Place("a\x1b[2J.yaml", 3, 7)
    assert str(place) == "a?[2J.yaml:3:7"
    assert str(Fault(Problem(Place(), "\x1b]0;x\x07 is missing."))) == "?]0;x? is missing."
