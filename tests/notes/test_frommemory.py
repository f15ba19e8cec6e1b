"""What is from memory leaves the orders and stands apart, with what it is about."""

from __future__ import annotations

from dataclasses import replace

import pytest

from diagnose.notes.compose import compose
from diagnose.notes.frommemory import memory_apart
from diagnose.notes.note import Note
from tests.notes.rejects import REJECTS, opened

NOTE = compose(opened(REJECTS["likely"]))


def with_order(how_much: str) -> Note:
    (suspect,) = NOTE.suspects
    assert suspect.correction is not None
    action = replace(suspect.correction, how_much=how_much)
    return replace(NOTE, suspects=(replace(suspect, correction=action),))


@pytest.mark.parametrize(
    ("order", "left", "told"),
    [
        ("Up to 4 mm (from memory). Stop at 5.", "Up to 4 mm. Stop at 5.", ("Up to 4 mm",)),
        ("0.5 m/s, 2 s (first figure from memory).", "0.5 m/s, 2 s.", ("0.5 m/s, 2 s",)),
        ("Wait. Mind: Constants from memory. Safety: go.", "Wait. Safety: go.",
         ("Constants from memory",)),
        ("Down by 0.3 % a batch.", "Down by 0.3 % a batch.", ()),
    ],
)  # fmt: skip
def test_an_order_is_left_whole_without_it(order: str, left: str, told: tuple[str, ...]) -> None:
    note = memory_apart(with_order(order))
    assert note.suspects[0].correction is not None
    assert note.suspects[0].correction.how_much == left
    assert note.from_memory == tuple(f"cut the water in the sand: {text}" for text in told)


def test_the_same_said_twice_is_told_once() -> None:
    note = replace(NOTE, contain=("Hold six (from memory).", "Hold six (from memory)."))
    clean = memory_apart(note)
    assert clean.contain == ("Hold six.", "Hold six.")
    assert clean.from_memory == ("Hold six",)
