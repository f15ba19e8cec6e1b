from __future__ import annotations

import pytest

from diagnose.rulebase.reading import draft
from diagnose.rulebase.words_index import Index
from diagnose.rulebase.words_spelling import mender

MEND = mender(Index(draft().book, lambda _, build: build()).known)


@pytest.mark.parametrize(
    ("slip", "meant"),
    [
        ("smoth", "smooth"),
        ("hoels", "hole"),
        ("crystels", "crystal"),
        ("jaged", "jagged"),
        ("shrinkadge", "shrinkage"),
        ("incluson", "inclusion"),
        ("patern", "pattern"),
        ("laddle", "ladle"),
    ],
)
def test_a_slip_is_put_right(slip: str, meant: str) -> None:
    assert MEND(slip) == (meant,)


@pytest.mark.parametrize(
    ("run_together", "meant"), [("burnon", "burn on"), ("coldlap", "cold lap")]
)
def test_words_run_together_are_parted(run_together: str, meant: str) -> None:
    assert " ".join(MEND(run_together)) == meant


@pytest.mark.parametrize(
    "word",
    ["while", "think", "could", "later", "paint", "order", "share", "tough", "wound", "bold",
     "thing", "seems", "hut", "cor", "1310", "zebra", "Smethwick"],
)  # fmt: skip
def test_everyday_words_are_left_alone(word: str) -> None:
    assert MEND(word) == (word,)
