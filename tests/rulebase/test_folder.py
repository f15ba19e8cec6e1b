from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.basics.errors import Fault
from diagnose.rulebase import folder
from diagnose.rulebase.folder import knowledge_folder, rule_files


@pytest.fixture
def installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A program installed elsewhere, as yet without rules."""
    package = tmp_path / "site" / "diagnose"
    (package / "rulebase").mkdir(parents=True)
    monkeypatch.setattr(folder, "__file__", str(package / "rulebase" / "folder.py"))
    return package


def test_the_rules_of_a_checkout_lie_beside_the_program(installed: Path) -> None:
    (installed.parent / "knowledge").mkdir()
    assert knowledge_folder() == installed.parent / "knowledge"


def test_installed_rules_come_before_those_of_a_checkout(installed: Path) -> None:
    (installed.parent / "knowledge").mkdir()
    (installed / "knowledge").mkdir()
    assert knowledge_folder() == installed / "knowledge"


def test_a_program_without_rules_says_so(installed: Path) -> None:
    with pytest.raises(Fault, match="Install the program again"):
        knowledge_folder()


def test_the_command_line_comes_before_the_environment(
    installed: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("named", "set"):
        (installed / name).mkdir()
    monkeypatch.setenv("DIAGNOSE_KNOWLEDGE", str(installed / "set"))
    assert knowledge_folder(installed / "named") == installed / "named"
    assert knowledge_folder() == installed / "set"


def test_files_come_in_the_order_of_their_names_in_the_folder(tmp_path: Path) -> None:
    names = ["a/z.yaml", "a-b.yaml", "b.yaml", "worked/no.yaml", "a/no.txt", "a/.no.yaml"]
    for name in names:
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).touch()
    found = [path.relative_to(tmp_path).as_posix() for path in rule_files(tmp_path)]
    assert found == ["a-b.yaml", "a/z.yaml", "b.yaml"]
