"""Figures in words as they stand on every screen: by hand, and by what must hold of any figure."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.notes.figures_in_words import (
    aim,
    bar,
    name_and_value,
    quoted,
    reading_in_words,
    stand,
    window,
)
from diagnose.session.session import Session


@given(st.floats(0, 1), st.integers(0, 40))
def test_a_bar_is_as_wide_as_it_should_be_and_nothing_is_hidden(share: float, width: int) -> None:
    drawn = bar(share, width)
    assert len(drawn) == width
    assert drawn == "#" * drawn.count("#") + "." * drawn.count(".")
    assert ("#" in drawn) == (share > 0 and width > 0)
    assert abs(drawn.count("#") - share * width) <= 1


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [(3.0, 4.0, "3 to 4 %"), (None, 2.5, "up to 2.5 %"), (80, None, "80 % or more"),
     (0, 1, "0 to 1 %"), (None, 0, "up to 0 %"), (None, None, "no window")],
)  # fmt: skip
def test_windows(low: float | None, high: float | None, said: str) -> None:
    assert window(low, high, "%") == said


@given(
    st.floats(-1e3, 1e3),
    st.none() | st.integers(-100_000, 100_000).map(lambda thousandths: thousandths / 1000),
    st.none() | st.floats(101, 300),
    st.integers(8, 60),
)
def test_where_a_reading_stands(
    value: float, low: float | None, high: float | None, width: int
) -> None:
    drawn = stand(value, low, high, width)
    assert len(drawn) == width
    if low is None and high is None:
        assert drawn == "." * width
        return
    (at,) = (place for place, sign in enumerate(drawn) if sign in "*<>")
    left, right = width // 4, width - width // 4 - 1
    if low is not None and value < low:
        assert at <= left
    if high is not None and value > high:
        assert at >= right
    if low is not None and value >= low:
        assert at >= left
    if high is not None and value <= high:
        assert at <= right


def test_off_the_end_of_the_bar() -> None:
    assert stand(-50.0, 3.0, 4.0).startswith("<")
    assert stand(50.0, 3.0, 4.0).endswith(">")


def test_a_reading_is_told_with_how_it_stands(session: Session) -> None:
    reading = session.measure("moulding sand moisture", "6.5; 6.6 %")
    assert reading_in_words(reading) == "6.5, 6.6 %, above its window"
    entry = session.book.measurements["sand-moisture"]
    held = session.desk.window(entry)
    assert held is not None
    assert aim(held, "%") == f"{held.low:g} to {held.high:g} %"
    assert aim(None, "%") == "no window"


def test_a_reading_that_follows_from_others_is_said_to_be_worked_out(session: Session) -> None:
    session.measure("carbon", "3.4 %")
    session.measure("silicon", "2 %")
    (worked,) = (one for one in session.readings() if one.id == "carbon-equivalent")
    assert reading_in_words(worked).endswith(", worked out")
    assert reading_in_words(worked).startswith("4")


def test_a_persons_own_words_stand_in_quotation_marks() -> None:
    assert quoted("went\n funny") == '"went funny"'
    assert quoted("") == ""


@pytest.mark.parametrize(
    ("text", "parted"),
    [
        ("moisture 4.6 %", ("moisture", "4.6 %")),
        ("moisture: 4.6 %", ("moisture", "4.6 %")),
        ("moisture=4.6", ("moisture", "4.6")),
        ("box temp -3 degC", ("box temp", "-3 degC")),
        ("box temp \u22123 degC", ("box temp", "\u22123 degC")),
        ("4.6 %", ("", "4.6 %")),
        ("moisture", ("", "moisture")),
        ("", ("", "")),
    ],
)
def test_a_name_is_parted_from_its_figure(text: str, parted: tuple[str, str]) -> None:
    assert name_and_value(text) == parted
