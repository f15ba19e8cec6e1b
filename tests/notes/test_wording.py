"""How a note puts things: no promise of certainty, whole sentences, plain lists."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.notes.wording import (
    either,
    first_sentence,
    percent,
    readings,
    sentence,
    sureness,
)


@given(st.floats(0, 1))
def test_a_percent_is_never_nothing_and_never_everything(probability: float) -> None:
    said = percent(probability)
    assert said.endswith(" %")
    assert said not in ("0 %", "100 %")


@pytest.mark.parametrize(
    ("probability", "said"),
    [(0.0, "under 1 %"), (0.0099, "under 1 %"), (0.01, "1 %"), (0.99, "99 %"),
     (0.991, "over 99 %"), (1.0, "over 99 %"), (0.5, "50 %")],
)  # fmt: skip
def test_percents(probability: float, said: str) -> None:
    assert percent(probability) == said


@pytest.mark.parametrize(
    ("probability", "said"),
    [(0.5, "more likely than not"), (0.65, "likely"), (0.85, "very likely"),
     (0.97, "nearly certain"), (1.0, "nearly certain")],
)  # fmt: skip
def test_how_sure(probability: float, said: str) -> None:
    assert sureness(probability) == said


@given(st.text(max_size=40))
def test_a_sentence_stays_what_it_is(text: str) -> None:
    once = sentence(text)
    assert sentence(once) == once
    assert not once or once[-1] in ".!?:"


def test_sentences() -> None:
    assert sentence("iron is hot") == "Iron is hot."
    assert sentence("  ") == ""
    assert sentence("pH 7 it is: ") == "PH 7 it is:"
    assert first_sentence("Is it 1.5 m? Stand off.") == "Is it 1.5 m?"


@pytest.mark.parametrize(
    ("names", "said"), [([], ""), (["a"], "a"), (["a", "b"], "a or b"), (list("abc"), "a, b or c")]
)
def test_lists(names: list[str], said: str) -> None:
    assert either(names) == said


def test_readings() -> None:
    assert readings([4.4, 4.60001], "%") == "4.4, 4.60001 %"
    assert readings([3.0], "") == "3"
