"""Lengths of time in words, by hand."""

from __future__ import annotations

import pytest

from diagnose.basics.duration import _SAID, about, exact, minutes_in_words


@pytest.mark.parametrize(
    ("minutes", "said"),
    [(0, "a few seconds"), (0.4, "a few seconds"), (0.41, "half a minute"), (1, "a minute"),
     (15, "a quarter of an hour"), (60, "an hour"), (76, "about 1 hours"), (90, "about 2 hours"),
     (599, "about 10 hours"), (600, "a day or more"), (5000, "a day or more")],
)  # fmt: skip
def test_how_long_it_takes(minutes: float, said: str) -> None:
    assert about(minutes) == said


def test_longer_is_never_said_to_be_shorter() -> None:
    limits = [limit for limit, _ in _SAID]
    assert limits == sorted(limits)
    assert len({words for _, words in _SAID}) == len(_SAID)


@pytest.mark.parametrize(
    ("minutes", "said"),
    [(0, "0 min"), (59, "59 min"), (60, "1 h"), (61, "1 h 1 min"), (2879, "47 h 59 min"),
     (2880, "2 days"), (3700, "3 days")],
)  # fmt: skip
def test_to_the_minute(minutes: int, said: str) -> None:
    assert exact(minutes) == said


def test_minutes_for_a_list() -> None:
    assert [minutes_in_words(m) for m in (0.99, 1, 89, 90, 150)] == [
        "under a minute", "1 min", "89 min", "1.5 h", "2.5 h",
    ]  # fmt: skip
