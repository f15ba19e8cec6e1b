"""``diagnose reject`` and the slips of somebody new: several files, no command, other options."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from diagnose.commands.main import main
from tests.conftest import ROOT
from tests.session.test_rejectfile import EXAMPLE

WORKED = ROOT / "knowledge" / "worked" / "cover-0412.yaml"


@pytest.fixture
def reject(tmp_path: Path) -> Path:
    path = tmp_path / "reject.yaml"
    path.write_text(EXAMPLE, encoding="utf-8")
    return path


def test_a_file_in_place_of_a_command_is_worked(reject: Path) -> None:
    short = CliRunner().invoke(main, [str(reject), "--json"])
    long = CliRunner().invoke(main, ["reject", str(reject), "--json"])
    assert (short.exit_code, short.stdout) == (0, long.stdout)


def test_a_file_is_worked_with_the_book_named_before_it() -> None:
    found = CliRunner().invoke(main, ["--knowledge", "nowhere", str(WORKED)])
    assert found.exit_code == 1
    assert "nowhere" in found.stderr


def test_a_table_in_place_of_a_command_leads_to_what_works_it() -> None:
    found = CliRunner().invoke(main, ["scrap.csv"])
    assert found.exit_code == 1
    assert "'diagnose batch scrap.csv'" in found.stderr
    assert "'diagnose sheet scrap.csv'" in found.stderr


@pytest.mark.parametrize("words", [(), ("reject",), ("book", "links"), ("book",)])
def test_help_is_a_command_too(words: tuple[str, ...]) -> None:
    asked = CliRunner().invoke(main, ["help", *words])
    option = CliRunner().invoke(main, [*words, "--help"])
    assert (asked.exit_code, asked.stdout) == (0, option.stdout)


@pytest.mark.parametrize("option", ["--html", "--pdf", "--output"])
def test_an_option_for_the_note_in_a_file_leads_to_the_one_that_there_is(option: str) -> None:
    for command in ([], ["reject"]):
        found = CliRunner().invoke(main, [*command, str(WORKED), option])
        assert found.exit_code == 2
        assert f"There is no {option}. --write DIR writes the note" in found.stderr


def test_several_files_give_a_table_and_a_note_each(tmp_path: Path) -> None:
    names = {"one": "cover one", "two": "cover two"}
    for file, name in names.items():
        text = EXAMPLE.replace("cover-0412  ", name)
        (tmp_path / f"{file}.yaml").write_text(text, encoding="utf-8")
    bad = tmp_path / "bad.yaml"
    bad.write_text("seen: [smooth holes]\nqty: 3\n", encoding="utf-8")
    files = [str(tmp_path / f"{file}.yaml") for file in names]
    found = CliRunner().invoke(main, ["reject", *files, str(bad), "--write", str(tmp_path / "n")])
    assert found.exit_code == 1
    assert f"{bad}:2:1: No heading is called 'qty'." in found.stderr
    table = found.stdout.partition("\n\n")[0].splitlines()
    assert table[0] == "2 rejects"
    assert [line.strip() for line in table if ".yaml: " in line] == [
        "one.yaml: cover one", "two.yaml: cover two",
    ]  # fmt: skip
    assert all(len(line) <= 79 for line in table)
    for name in names.values():
        assert found.stdout.count(f"CORRECTIVE-ACTION NOTE: {name}") == 1
    assert len([*(tmp_path / "n").iterdir()]) == 6


def test_notes_of_rejects_that_are_called_alike_do_not_overwrite_each_other(
    reject: Path, tmp_path: Path
) -> None:
    where = tmp_path / "notes"
    CliRunner().invoke(main, ["reject", str(reject), str(reject), "--write", str(where)])
    names = sorted(path.name for path in where.glob("*.txt"))
    assert names == ["cover-0412-2-note.txt", "cover-0412-note.txt"]


def test_several_files_as_data(reject: Path) -> None:
    found = CliRunner().invoke(main, ["reject", "--json", str(reject), str(WORKED)])
    assert found.exit_code == 0
    data = json.loads(found.stdout)
    assert [one["file"] for one in data] == [str(reject), str(WORKED)]
    alone = CliRunner().invoke(main, ["reject", "--json", str(WORKED)])
    assert {k: v for k, v in data[1].items() if k != "file"} == json.loads(alone.stdout)


def test_the_second_page_can_be_left_out(reject: Path, tmp_path: Path) -> None:
    whole = CliRunner().invoke(main, ["reject", str(reject)])
    found = CliRunner().invoke(
        main, ["reject", str(reject), "--one-page", "--write", str(tmp_path)]
    )
    assert "SECOND PAGE" in whole.stdout
    assert "SECOND PAGE" not in found.stdout
    for path in tmp_path.glob("*-note.*"):
        assert "second page" not in path.read_text(encoding="utf-8").lower()


def test_of_words_that_mean_nothing_it_is_said_what_to_do() -> None:
    found = CliRunner().invoke(main, ["reject", "-"], input="seen: [qwe rty uio]")
    assert found.exit_code == 0
    said = " ".join(found.stdout.split())
    assert "The nearest: " in said
    for way_out in ("Say in other words under 'seen:'", "diagnose hear", "answer the questions"):
        assert way_out in said
