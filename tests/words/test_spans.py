"""The parts of a phrase: none is lost, none is empty, none is read across a block."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.words.pieces import Vocabulary
from diagnose.words.spans import BLOCK, blocks, clauses, spans

KNOWN = Vocabulary(["[UNK]", "[CLS]", "[SEP]"])
WORDS = st.lists(
    st.sampled_from(["hole", "near", "core", "and", "but", ",", ".", ";", "-", "3 mm", "no", ""]),
    max_size=60,
).map(" ".join)


@settings(max_examples=200, deadline=None)
@given(WORDS)
def test_every_part_lies_in_the_phrase(text: str) -> None:
    pieces = KNOWN.pieces(text)
    found = spans(text, pieces)
    assert all(0 <= begin < end <= len(pieces) for begin, end in found)
    assert len(found) == len(set(found))
    assert (found[0] == (0, len(pieces))) if pieces else not found


@settings(max_examples=200, deadline=None)
@given(WORDS)
def test_clauses_come_in_order_and_do_not_overlap(text: str) -> None:
    found = list(clauses(text, KNOWN.pieces(text)))
    assert all(one[1] <= two[0] for one, two in pairwise(found))


@settings(max_examples=60, deadline=None)
@given(st.lists(WORDS, max_size=12).map(", ".join))
def test_blocks_are_short_and_in_order(text: str) -> None:
    pieces = KNOWN.pieces(text)
    found = blocks(text, pieces)
    assert all(0 < end - begin <= BLOCK for begin, end in found)
    assert all(one[1] <= two[0] for one, two in pairwise(found))


def test_a_long_clause_is_read_through_windows() -> None:
    text = "there was this great big hole right in the middle of the top flange again"
    pieces = KNOWN.pieces(text)
    words = {text[pieces[a].start : pieces[b - 1].end] for a, b in spans(text, pieces)}
    assert "there was this great big hole" in words
    assert text in words
