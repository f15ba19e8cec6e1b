"""What may be believed of what fits, and what must be asked; on the shipped rule base."""

from __future__ import annotations

import pytest

from diagnose.rulebase.reading import draft
from diagnose.rulebase.words import Phrasebook

PHRASEBOOK = Phrasebook(draft().book)


def said(phrase: str) -> set[tuple[str, str]]:
    return {(match.id, match.answer) for match in PHRASEBOOK.understand(phrase).matches}


@pytest.mark.parametrize(
    "phrase", ["core box is blue", "next to the core print", "the core shop", "gate valve body"]
)
def test_half_a_name_is_not_the_thing(phrase: str) -> None:
    assert not said(phrase)


def test_the_bottom_of_a_bore_is_not_the_bottom_of_the_mould() -> None:
    assert ("height-in-mould", "drag") in said("in the bottom of the mould")
    assert ("height-in-mould", "drag") not in said("hole in the bottom of the bore")


def test_a_common_word_counts_beside_the_thing_it_is_said_of() -> None:
    assert ("cavity-wall", "smooth") in said("the wall of the hole is smooth")
    assert ("cavity-wall", "smooth") not in said("the pattern is smooth")


def test_where_nothing_is_seen_nothing_is_placed() -> None:
    assert said("holes in the drag") == {("fault-form", "hole"), ("height-in-mould", "drag")}
    assert not said("no holes in the drag")


def test_to_deny_one_of_two_answers_is_to_give_the_other() -> None:
    assert said("the pins are not worn") == {("cope-rocks-on-pins", "tight")}


def test_to_deny_one_of_many_answers_leaves_them_open() -> None:
    understood = PHRASEBOOK.understand("the mould did not boil")
    assert not understood.matches
    (denied,) = understood.denied
    assert (denied.id, denied.answer) == ("mould-at-pour", "boiled-or-spat")
    assert denied.words == "mould did not boil"


def test_to_deny_a_thing_in_one_place_does_not_rule_it_out() -> None:
    understood = PHRASEBOOK.understand("no holes in the drag")
    assert not understood.matches
    assert not understood.denied
    assert understood.missed


def test_to_speak_of_a_thing_does_not_deny_that_it_is_missing() -> None:
    assert ("fillet-missing", "missing") in said("no fillet in the corner")
    assert not said("put a fillet in that corner")


@pytest.mark.parametrize("phrase", ["drop in the cope", "a drop?"])
def test_a_common_word_that_names_a_defect_is_asked_about(phrase: str) -> None:
    understood = PHRASEBOOK.understand(phrase)
    assert "drop" not in {match.id for match in understood.matches}
    assert "drop" in {match.id for part in understood.unclear for match in part.candidates}


def test_a_word_in_front_may_make_it_another_defect() -> None:
    assert said("porosity") == {("shrinkage-porosity", "")}
    (part,) = PHRASEBOOK.understand("gas porosity").unclear
    assert {"shrinkage-porosity", "blow-mould-gas"} <= {match.id for match in part.candidates}
