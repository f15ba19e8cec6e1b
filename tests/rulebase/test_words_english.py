from __future__ import annotations

from diagnose.rulebase import words_english as english
from diagnose.rulebase.words_text import LIGHT_ROOTS, NEUTRAL_ROOTS, SUBJECT_ROOTS, root


def test_a_word_is_of_one_kind() -> None:
    kinds = [english.FILLERS, english.LIGHT, english.NEGATIONS, english.SUBJECTS, english.NEUTRAL]
    for number, kind in enumerate(kinds):
        for other in kinds[number + 1 :]:
            assert not kind & other


def test_no_two_kinds_share_a_root() -> None:
    assert not LIGHT_ROOTS & SUBJECT_ROOTS
    assert not LIGHT_ROOTS & NEUTRAL_ROOTS
    assert not SUBJECT_ROOTS & NEUTRAL_ROOTS


def test_what_says_that_there_is_none_is_a_negation() -> None:
    assert english.ABSENT < english.NEGATIONS


def test_one_folding_is_enough() -> None:
    """What a word is folded to stands for itself."""
    for table in (english.SPELLINGS, english.ODD_FORMS, english.ALIKE):
        for word, instead in table.items():
            assert root(word) == root(instead), word
