"""What is wrong with a text that is no YAML, in plain words and at its place."""

from __future__ import annotations

import pytest
import yaml

from diagnose.rulebase.yamlwords import in_plain_words


def told(text: str) -> str:
    with pytest.raises(yaml.YAMLError) as caught:
        list(yaml.parse(text))
    return str(in_plain_words(caught.value, "x"))


@pytest.mark.parametrize(
    ("text", "place", "what"),
    [
        ("say: a hole: smooth", "x:1:12", "There is a colon here"),
        ("a:\n\tb: 1", "x:2:1", "There is a tab here."),
        ("a: @b", "x:1:4", "Text must not begin with this character."),
        ("a: 1\nb\nc: 2", "x:", "A key without its colon"),
        ("a:\n  - b\n c: 1", "x:", "This does not fit the lines around it."),
        ("a: [b, c\nd: 1", "x:1:4", "The list that begins here with ["),
        ("a: {b: 1\nd: [", "x:1:4", "The mapping that begins here with {"),
        ('a: "b', "x:1:4", "A quotation mark is opened here and never closed."),
        ("a: 'b\nc: 1", "x:1:4", "A quotation mark is opened here and never closed."),
        ('a: "\\q"', "x:1:", "A backslash in double quotes"),
        ("a: |b", "x:1:", "Text"),
        ("a: *", "x:1:", "Text must not begin with * or &."),
        ("a: 1\n...\nb\n]", "x:", "What follows does not belong"),
    ],
)
def test_every_slip_has_its_words_and_its_place(text: str, place: str, what: str) -> None:
    said = told(text)
    assert said.startswith(place)
    assert what in said
    assert "expected" not in said  # the library's own words
    assert "token" not in said


def test_words_of_the_library_are_better_than_none() -> None:
    said = str(in_plain_words(yaml.YAMLError("something new"), "x"))
    assert said == "x: This cannot be read as YAML: something new."
