from __future__ import annotations

import pytest

from diagnose.rulebase.book import Term
from diagnose.rulebase.words_text import folding_of, parts_in_doubt, root, says_no, words_of


@pytest.mark.parametrize(
    "forms",
    [
        "hole holes holed",
        "crumble crumbles crumbled crumbling",
        "blow blew blown blowing blows",
        "mould mold molds moulds",
        "skim skims skimmed skimming",
        "bake bakes baked baking",
        "box boxes boxed",
        "patch patches patched patching",
        "sink sank sunk",
        "weigh weighs weight",
    ],
)
def test_forms_of_a_word_have_one_root(forms: str) -> None:
    assert len({root(form) for form in forms.split()}) == 1


@pytest.mark.parametrize(
    "words", ["cope core", "skin skim", "sound sand", "fin fine", "gas glass", "riser rise"]
)
def test_other_words_have_other_roots(words: str) -> None:
    assert len({root(word) for word in words.split()}) == len(words.split())


@pytest.mark.parametrize(
    ("text", "negated"),
    [
        ("no sand in the holes", {"sand"}),
        ("neither sand nor slag in it", {"sand", "slag"}),
        ("not near the core", {"beside", "core"}),
        ("the cup wasn't kept full", {"kept", "fill"}),
        ("not smooth but round", {"smooth"}),
        ("nobody skimmed the ladle", {"skim", "ladle"}),
        ("no lump, a hole", {"lump"}),
        ("smooth and round", set()),
    ],
)
def test_a_no_reaches_as_far_as_it_is_meant(text: str, negated: set[str]) -> None:
    found = {word.root for word in words_of(text, {}) if word.negated}
    assert found == {root(word) for word in negated}


def test_a_word_knows_where_it_stands() -> None:
    text = "Not a Crack, the skin\u2019s top of the bore"
    words = words_of(text, {})
    spans = [text[word.start : word.end] for word in words]
    assert spans == ["Not a Crack", "skin\u2019s", "top", "bore"]
    assert [word.part for word in words] == [0, 1, 1, 1]
    assert [word.no for word in words] == ["not", "", "", ""]
    assert [word.of for word in words] == [False, False, True, False]


def test_synonyms_are_folded_into_the_leading_word() -> None:
    glossary = {
        "riser": Term(means="", source=(), also=("feeder", "sink head")),
        "core print": Term(means="", source=(), also=("print", "core seat")),
        "one": Term(means="", source=(), also=("shared",)),
        "other": Term(means="", source=(), also=("shared",)),
    }
    folding = folding_of(glossary)
    said = words_of("sink head, feeder, print, core seats, shared", folding)
    assert [word.root for word in said] == [
        "riser", "riser", "print", "core", "print", root("shared"),
    ]  # fmt: skip
    assert said[0].raw == "sink head"


@pytest.mark.parametrize(
    "text", ["cannot blow through", "isn\u2019t dirty", "never wet", "nor sand"]
)
def test_a_no_is_noticed(text: str) -> None:
    assert says_no(text)


@pytest.mark.parametrize("text", ["noted", "canned", "nothing in it"])
def test_a_no_is_not_imagined(text: str) -> None:
    assert not says_no(text)


def test_doubts_are_placed() -> None:
    assert parts_in_doubt("round, maybe slag in it; sooty") == {1}
    assert parts_in_doubt("is it a crack?") == {0}
    assert parts_in_doubt("a crack") == frozenset()
