"""What the README and the manuals show is run as it stands there."""

from __future__ import annotations

import re
import shlex
import tomllib
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from diagnose.commands.main import main
from diagnose.session.rejectfile import read_reject
from diagnose.session.session import open_session
from tests.program import python

HERE = Path(__file__).parents[1]
README = (HERE / "README.md").read_text(encoding="utf-8")
MANUALS = sorted([HERE / "README.md", HERE / "DEVELOPERS.md", *(HERE / "docs").glob("*.md")])


def blocks(text: str, language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", text, re.DOTALL)


def commands() -> dict[str, click.Command]:
    """Every command with the words that call it."""
    found: dict[str, click.Command] = {}
    context = click.Context(main)
    for name in main.list_commands(context):
        command = main.get_command(context, name)
        assert command is not None
        found[name] = command
        if isinstance(command, click.Group):
            found |= {f"{name} {sub}": entry for sub, entry in command.commands.items()}
    return found


def test_the_first_command_works_a_reject(monkeypatch: pytest.MonkeyPatch) -> None:
    line = next(line for line in README.splitlines() if "diagnose reject knowledge" in line)
    words = shlex.split(line.split("bin/diagnose ")[1])
    monkeypatch.chdir(HERE)
    done = CliRunner().invoke(main, words)
    assert done.exit_code == 0
    assert "CORRECT IT" in done.output


def test_the_second_command_runs_the_tests() -> None:
    """What it installs holds what its options need, and with them pytest finds the tests."""
    line = next(line for line in README.splitlines() if "-m pytest" in line)
    _, install, test = line.strip().split(" && ")
    (extra,) = re.findall(r"\.\[(\w+)\]", install)
    project = tomllib.loads((HERE / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert any("pytest-xdist" in one for one in project["optional-dependencies"][extra])
    options = shlex.split(test)[1:]
    done = python(*options, "--collect-only", "tests/basics/test_errors.py")
    assert done.returncode == 0, done.stderr
    assert "test_errors.py" in done.stdout


def test_the_library_example_runs(capsys: pytest.CaptureFixture[str]) -> None:
    (example,) = blocks(README, "python")
    exec(compile(example, "README.md", "exec"), {})
    assert "% core" in capsys.readouterr().out


def test_the_reject_file_of_the_manual_is_read(tmp_path: Path) -> None:
    (example,) = blocks((HERE / "docs" / "reject-file.md").read_text(encoding="utf-8"), "yaml")
    path = tmp_path / "reject.yaml"
    path.write_text(example, encoding="utf-8")
    session = open_session()
    read_reject(path, session)
    assert session.reject.name == "cover-0412"


def test_every_command_is_described_and_has_help() -> None:
    text = "\n".join(path.read_text(encoding="utf-8") for path in MANUALS)
    for words, command in commands().items():
        assert f"diagnose {words}" in text, words
        assert command.help, words


def test_the_manuals_name_commands_pages_and_modules_to_look_for() -> None:
    """So that the next test has something to look at."""
    text = "\n".join(path.read_text(encoding="utf-8") for path in MANUALS)
    assert len(set(re.findall(r"`diagnose ([a-z]+)", text))) >= 6
    assert len(set(re.findall(r"\]\(([\w./-]+)\)", text))) >= 10
    assert len(set(re.findall(r"python -m (tests(?:\.\w+)+)", text))) >= 5


@pytest.mark.parametrize("manual", MANUALS, ids=lambda path: path.name)
def test_every_command_and_page_that_is_named_is_there(manual: Path) -> None:
    text = manual.read_text(encoding="utf-8")
    known = commands()
    for called in re.findall(r"`diagnose ([a-z]+)", text):
        assert called in known, called
    for page in re.findall(r"\]\(([\w./-]+)\)", text):
        assert (manual.parent / page).exists(), page
    for module in re.findall(r"python -m (tests(?:\.\w+)+)", text):
        assert (HERE / f"{module.replace('.', '/')}.py").exists(), module
