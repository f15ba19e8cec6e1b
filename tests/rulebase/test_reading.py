from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.basics.errors import Fault
from diagnose.rulebase.load import load
from diagnose.rulebase.reading import draft


def test_the_sections_of_all_files_are_merged(good: Path, add: Callable[..., Path]) -> None:
    add("glossary:\n  drag: {means: The lower half., source: [common practice]}\n")
    book = draft(good).book
    assert {"cope", "drag"} <= book.glossary.keys()
    assert book.conditions["sand-too-wet"].leads_to[1].needs == ("section-thin",)
    assert book.measurements["moisture"].windows[0].high == 4.5


def test_the_faults_of_all_files_come_together(good: Path, add: Callable[..., Path]) -> None:
    add("glossary: [\n", "one.yaml")
    add("conditions:\n  x: {}\n", "two.yaml")
    files = {Path(problem.place.file).name for problem in draft(good).problems}
    assert files == {"one.yaml", "two.yaml"}


def test_what_names_a_faulty_entry_is_not_called_wrong(
    good: Path, add: Callable[..., Path]
) -> None:
    add("conditions:\n  sand-hot: {name: 3}\n", "a.yaml")
    add(
        "actions:\n  cool-it: {name: cool it, cures: [sand-hot], what: a, how much: b, who: c,"
        " watch: d, verify: e, source: [shop-book]}\n",
        "b.yaml",
    )
    with pytest.raises(Fault) as caught:
        load(good)
    assert {Path(p.place.file).name for p in caught.value.problems} == {"a.yaml"}


def test_worked_rejects_and_hidden_files_are_no_rules(good: Path, add: Callable[..., Path]) -> None:
    (good / "worked").mkdir()
    (good / ".old").mkdir()
    for name in ("worked/one.yaml", ".old/one.yaml", ".one.yaml"):
        add("nonsense: 1\n", name)
    assert draft(good).problems == []


def test_a_file_ending_in_yml_is_read_too(good: Path, add: Callable[..., Path]) -> None:
    add("glossary:\n  drag: {means: The lower half., source: [shop-book]}\n", "words.yml")
    assert "drag" in load(good).glossary


def test_files_are_named_as_the_user_would_type_them(
    good: Path, add: Callable[..., Path], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    path = add("x: 1\n")
    monkeypatch.chdir(good)
    assert draft(good).problems[0].place.file == "more.yaml"
    (tmp_path / "elsewhere").mkdir()
    monkeypatch.chdir(tmp_path / "elsewhere")
    assert draft(good).problems[0].place.file == str(path)


def test_which_folder_is_read(good: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    assert load().defects.keys() > {"pinholes", "misrun"}
    monkeypatch.setenv("DIAGNOSE_KNOWLEDGE", str(good))
    assert load().defects.keys() == {"blow", "pinholes"}
    monkeypatch.setenv("DIAGNOSE_KNOWLEDGE", str(tmp_path / "none"))
    with pytest.raises(Fault, match="There is no such folder"):
        load()
    assert load(good).defects.keys() == {"blow", "pinholes"}


def test_a_folder_without_rules(tmp_path: Path) -> None:
    with pytest.raises(Fault, match="no rule file"):
        load(tmp_path)


def test_a_link_to_nowhere_is_a_fault_not_a_crash(good: Path) -> None:
    os.symlink("nowhere", good / "dangling.yaml")
    with pytest.raises(Fault, match=r"dangling\.yaml: There is no such file"):
        load(good)
