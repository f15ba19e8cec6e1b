from __future__ import annotations

import pytest

from diagnose.basics.nearest import did_you_mean, nearest


def test_the_most_like_comes_first() -> None:
    assert nearest("cope", ["scope", "cape", "drag"], most=2) == ["scope", "cape"]


@pytest.mark.parametrize("word", ["", "zzz"])
def test_nothing_like_it(word: str) -> None:
    assert nearest(word, ["cope", "drag"]) == []


def test_the_way_out() -> None:
    assert did_you_mean("x", [], "caution") == "There is no caution in the book yet."
    many = [f"entry-{number}" for number in range(100, 120)]
    assert did_you_mean("zzz", many, "look") == "Check the spelling, or add it to the book."
