"""The look that separates two look-alikes moves the verdict: the table of pairs put to the test.

That a pair is told apart in this way is stated, with its source, beside each pair in
``knowledge/``. Here the answer is put to the whole rule base, in which the causes of a fault may
show it otherwise than the fault itself does.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from diagnose.session.session import Session
from tests import shipped

BOOK = shipped.book()
TIMES = 2.0
"""So much at least must the odds between the two faults move."""

CASES = [
    (name, look, answer, for_)
    for name, pair in BOOK.pairs.items()
    for look, answers in pair.by.items()
    for answer, for_ in answers.items()
]
ASKED_FOR = [
    ("shrinkage-cavity", "blow-mould-gas"),
    ("expansion-scab", "drop"),
    ("cold-shut", "cold-crack"),
    ("slag-inclusion", "sand-inclusion"),
    ("pinholes", "nitrogen-fissure"),
    ("veining", "rat-tail"),
    ("swell", "shift"),
    ("misrun", "blow-mould-gas"),
]


def metal_of(pair: tuple[str, str]) -> str:
    """Return a metal in which both can be met; grey iron where it will do."""
    common = [
        set(scope.metal) if (scope := BOOK.defects[name].scope) and scope.metal else {*BOOK.metals}
        for name in pair
    ]
    both = common[0] & common[1]
    return next(metal for metal in BOOK.metals if metal in both)


def odds(session: Session, one: str, other: str) -> float:
    share = {defect.id: defect.probability for defect in session.defects()}
    return share[one] / share[other]


def make_askable(session: Session, look: str, pair: tuple[str, str]) -> None:
    """Answer what a look is asked for only if, as is likeliest with these two faults."""
    for other, allowed in BOOK.looks[look].only_if.items():
        make_askable(session, other, pair)
        tables = [BOOK.defects[name].shows.get(other, {}) for name in pair]
        likely = max(
            allowed, key=lambda answer: sum(BOOK.figure(table.get(answer, 0.0)) for table in tables)
        )
        session.answer(other, likely)


@pytest.mark.parametrize(("name", "look", "answer", "for_"), CASES)
def test_the_separating_look_moves_the_verdict(
    start: Callable[..., Session], name: str, look: str, answer: str, for_: str
) -> None:
    pair = BOOK.pairs[name].pair
    (against,) = {*pair} - {for_}
    session = start()
    session.about(metal=metal_of(pair))
    make_askable(session, look, pair)
    before = odds(session, for_, against)
    session.answer(look, answer)
    assert odds(session, for_, against) > TIMES * before


@pytest.mark.parametrize("pair", ASKED_FOR, ids=" or ".join)
def test_what_is_most_often_confused_is_in_the_table(pair: tuple[str, str]) -> None:
    assert {*pair} in [{*entry.pair} for entry in BOOK.pairs.values()]


def test_every_look_alike_pair_of_defects_is_told_apart_by_some_look() -> None:
    """The check of the book holds each look; here, that most declared pairs are in the table."""
    declared = {
        frozenset((name, other))
        for name, defect in BOOK.defects.items()
        for other in defect.look_alikes
    }
    told: set[Any] = {frozenset(entry.pair) for entry in BOOK.pairs.values()}
    assert told <= declared
    assert len(told) > 0.5 * len(declared)
