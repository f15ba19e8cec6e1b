"""Actions beside the sheet: read back, added to, struck out; what people wrote by hand stays."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.basics.errors import Fault
from diagnose.batch.actions import Action, add_action, path_beside, read_actions, strike_action

BAKE = Action(
    "Bake half an hour: longer # now",
    "A. Example",
    date(2026, 4, 3),
    "blow-core-gas",
    "core-underbaked",
    date(2026, 3, 31),
)
POUR = Action("- pour = 1", "Ö. Example")
WEIGH = Action("yes: weigh", "no")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return path_beside(tmp_path / "march.xlsx")


def test_what_is_added_reads_back_in_order(path: Path) -> None:
    assert read_actions(path) == []
    add_action(path, BAKE)
    add_action(path, POUR)
    assert add_action(path, WEIGH) == read_actions(path) == [BAKE, POUR, WEIGH]
    assert path.name == "march-actions.yaml"


def test_what_was_written_by_hand_stays_word_for_word(path: Path) -> None:
    by_hand = (
        "# ours\nactions:\n  # the first\n  - text: look at the oven   # soon\n"
        "    owner: A. Example\n"
    )
    path.write_text(by_hand, encoding="utf-8")
    add_action(path, BAKE)
    assert path.read_text(encoding="utf-8").startswith(by_hand)
    assert [one.text for one in read_actions(path)] == ["look at the oven", BAKE.text]


def test_striking_one_out_leaves_all_else(path: Path) -> None:
    for one in (BAKE, POUR):
        add_action(path, one)
    with path.open("a", encoding="utf-8") as file:
        file.write("# said on the floor\n")
    add_action(path, WEIGH)
    assert strike_action(path, 1) == [BAKE, WEIGH]
    assert "# said on the floor" in path.read_text(encoding="utf-8")
    assert strike_action(path, 1) == [BAKE]
    assert strike_action(path, 0) == read_actions(path) == []
    assert add_action(path, POUR) == [POUR]


def test_what_another_person_added_meanwhile_stays(path: Path) -> None:
    mine = read_actions(path)
    add_action(path, POUR)
    assert mine == []
    assert add_action(path, BAKE) == [POUR, BAKE]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("actions: 3\n", "no list under 'actions:'"),
        ("actions:\n- owner: A. Example\n", "needs a text"),
        ("actions:\n- text: bake\n  when: soon\n", "has no when"),
        ("actions:\n- text: bake\n  due: 03/04/2026\n", "may be"),
        ("actions:\n- text: bake\n  owner: [\n", ""),
    ],
)
def test_a_file_that_is_wrong_is_told_and_never_written_over(
    path: Path, text: str, says: str
) -> None:
    path.write_text(text, encoding="utf-8")
    for change in (lambda: add_action(path, BAKE), lambda: strike_action(path, 0)):
        with pytest.raises(Fault) as told:
            change()
        assert says in str(told.value)
        assert path.name in str(told.value)
        assert path.read_text(encoding="utf-8") == text


def test_a_layout_that_cannot_be_added_to_is_left_alone(path: Path) -> None:
    text = "actions: [{text: bake}]\n"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Fault, match="cannot be added to"):
        add_action(path, POUR)
    assert path.read_text(encoding="utf-8") == text


def test_a_key_after_the_list_is_left_alone(path: Path) -> None:
    text = "actions:\n- text: bake\nnote: ours\n"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Fault):
        add_action(path, POUR)
    assert path.read_text(encoding="utf-8") == text


def test_there_is_no_action_of_that_number(path: Path) -> None:
    add_action(path, BAKE)
    with pytest.raises(Fault, match="number 3"):
        strike_action(path, 2)


words = st.text(st.characters(blacklist_categories=("Cs", "Cc", "Cn", "Co")), max_size=40)


@given(st.lists(st.tuples(words, words), min_size=1, max_size=4), st.data())
def test_any_words_survive(
    tmp_path_factory: pytest.TempPathFactory, pairs: list[tuple[str, str]], data: st.DataObject
) -> None:
    path = tmp_path_factory.mktemp("kept") / "any-actions.yaml"
    known: list[Action] = []
    for text, owner in pairs:
        try:
            known = add_action(path, Action(text, owner))
        except Fault:
            assert read_actions(path) == known
    assert read_actions(path) == known
    if known:
        at = data.draw(st.integers(0, len(known) - 1))
        left = [one for number, one in enumerate(known) if number != at]
        assert strike_action(path, at) == left
