from __future__ import annotations

from typing import Any

import pytest

from diagnose.rulebase.validate import SECTIONS, Misfit, kind_of_entry, validate

TERM = {"means": "a word", "source": ["common practice"]}


def misfits(section: str, data: Any) -> list[Misfit]:
    entry, found = validate(section, data)
    assert entry is None
    return found


def test_a_good_entry() -> None:
    entry, found = validate("glossary", TERM)
    assert found == []
    assert entry.source == ("common practice",)


def test_every_section_has_a_kind_of_entry() -> None:
    assert len({str(kind_of_entry(section)) for section in SECTIONS}) == len(SECTIONS) - 1


def test_a_misspelt_key_is_reported_once_with_what_was_meant() -> None:
    assert misfits("glossary", {"meanss": "a word", "source": ["x"]}) == [
        Misfit(
            ("meanss",), "The key 'meanss' is not known here.", "Did you mean 'means'?", key=True
        )
    ]


def test_keys_have_spaces_not_underscores() -> None:
    data = {"name": "x", "area": "x", "source": ["x"], "how": "x", "base_rate": 0.1}
    assert misfits("conditions", data)[0].instead == "Did you mean 'base rate'?"


@pytest.mark.parametrize(
    ("figure", "right"), [(0.5, True), (1, True), ("often", True), (True, False), (None, False)]
)
def test_a_figure_is_a_number_or_a_word(figure: Any, right: bool) -> None:
    entry, found = validate("looks", {
        "ask": "a", "how": "b", "minutes": 1, "source": ["c"],
        "answers": {"yes": {"say": "d", "usual": figure}},
    })  # fmt: skip
    assert (entry is not None) is right
    assert [m.steps for m in found] == [] if right else [("answers", "yes", "usual")]


@pytest.mark.parametrize("data", [None, [], "text", 3, True])
def test_an_entry_that_is_no_mapping(data: Any) -> None:
    (misfit,) = misfits("glossary", data)
    assert "must be a mapping" in misfit.what
    assert misfit.steps == ()


def test_no_wording_of_the_validator_reaches_the_user() -> None:
    nested = {"name": [1], "area": {}, "source": "x", "how": None, "leads to": {"to": 1},
              "shows": {"a": {"b": []}}, "base rate": {}, "also": [[1]],
              "scope": {"metal": 3, "section": ["x", 1], "colour": 1}}  # fmt: skip
    for misfit in misfits("conditions", nested):
        assert "Input should" not in misfit.what
        assert misfit.instead
