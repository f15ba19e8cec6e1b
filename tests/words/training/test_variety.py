"""Many texts of few: what a text means does not change as it is joined, shortened, misspelt."""

from __future__ import annotations

from random import Random

from hypothesis import given
from hypothesis import strategies as st

from diagnose.words.training.corpus import Example
from diagnose.words.training.variety import (
    SAYS_NO,
    denied,
    misspelt,
    single,
    varied,
    without_a_word,
)

ONE = Example("smooth inside the hole", "said", ("wall=smooth",), ("form=hole",), ("wall=rough",))
TWO = Example("up in the cope", "remark", ("place=cope",), (), ("place=drag", "form=hole"))
SAYING = Example("damp core", "saying", ("core=damp",), ("beside=core",))


@given(st.integers(0, 10_000))
def test_labels_of_joined_texts_are_those_of_their_parts(seed: int) -> None:
    sample = varied([ONE, TWO], Random(seed))
    assert sample.means == {"wall=smooth": 1.0, "place=cope": 1.0}
    assert sample.may == {"form=hole"}
    assert sample.never == {"wall=rough", "place=drag"}  # what one may mean is held against none


@given(st.integers(0, 10_000))
def test_the_same_seed_makes_the_same_text(seed: int) -> None:
    assert varied([ONE, TWO], Random(seed)) == varied([ONE, TWO], Random(seed))


def test_a_denied_saying_means_it_no_longer() -> None:
    turned = denied(single(SAYING), Random(1))
    assert SAYS_NO.search(turned.text)
    assert (turned.means, turned.never) == ({}, frozenset(SAYING.means))
    no = Example("no core in it", "saying", ("core=none",))
    assert denied(single(no), Random(1)) == single(no)


@given(st.text(max_size=40), st.integers(0, 1000))
def test_slips_are_few(text: str, seed: int) -> None:
    assert abs(len(misspelt(text, Random(seed))) - len(text)) <= 2


@given(st.integers(0, 1000))
def test_a_no_is_never_left_out(seed: int) -> None:
    shorter = without_a_word("there was no sand in the hole", Random(seed))
    assert "no" in shorter.split()
