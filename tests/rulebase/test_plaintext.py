"""Text of files: read as UTF-8, or refused at the spot where it stops being it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.basics.errors import Fault
from diagnose.rulebase.plaintext import text_of

PRINTABLE = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Cn", "Co", "Zl"]))


def refused(source: Path | str | bytes, limit: int = 1000) -> str:
    with pytest.raises(Fault) as caught:
        text_of(source, "x", limit)
    (problem,) = caught.value.problems
    return str(problem)


@given(PRINTABLE.filter(lambda text: not text.startswith("\ufeff") and "\ufffe" not in text))
def test_plain_text_comes_back_as_it_was(text: str) -> None:
    assert text_of(text.encode(), "x", 100_000) == text


def test_the_mark_that_some_editors_put_first_is_left_out() -> None:
    assert text_of("\ufeffa".encode(), "x", 10) == "a"


@pytest.mark.parametrize(
    ("raw", "place"),
    [(b"ab\xff", "x:1:3: "), (b"a\n\xffb", "x:2:1: "), ("é\n\u00e9\x07".encode(), "x:2:2: "),
     (b"a\r\nb\x1b", "x:2:2: "), ("a\ud800".encode("utf-8", "surrogatepass"), "x:1:2: ")],
)  # fmt: skip
def test_the_spot_is_told(raw: bytes, place: str) -> None:
    assert refused(raw).startswith(place)


@pytest.mark.parametrize("raw", [b"a\0b", "ab".encode("utf-16"), b"\xfe\xff\0a"])
def test_what_is_no_text_has_no_spot(raw: bytes) -> None:
    assert refused(raw).startswith("x: This is not a text file")


def test_the_limit_counts_bytes(tmp_path: Path) -> None:
    path = tmp_path / "file"
    path.write_text("éé", encoding="utf-8")
    assert text_of(path, "x", 4) == "éé"
    assert "bigger than" in refused(path, 3)
    assert "bigger than" in refused("éé", 3)


def test_what_cannot_be_opened_is_told(tmp_path: Path) -> None:
    assert "no such file" in refused(tmp_path / "none")
    assert "is a folder" in refused(tmp_path)
    assert "cannot be read" in refused(Path("/dev/null/x"))
