"""Whatever a person writes stands on one line and steers no screen."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from diagnose.reject.one_line import one_line


@given(st.text())
def test_any_text_is_one_printable_line_and_stays_so(text: str) -> None:
    told = one_line(text)
    assert told.isprintable()
    assert told == told.strip() == one_line(told)


@given(st.lists(st.text("abcxyz019-", min_size=1), min_size=1))
def test_plain_words_stay_as_they_are(words: list[str]) -> None:
    assert one_line("  \n\t".join(words)) == " ".join(words)
