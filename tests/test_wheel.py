"""The wheel holds everything: installed away from the checkout, it works a reject."""

from __future__ import annotations

import json
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
import yaml

from diagnose import __version__
from tests.conftest import ROOT
from tests.program import Done, python


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel built from the checkout; hatchling runs where it is, so nothing is fetched."""
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder into which the wheel was installed, far from the checkout."""
    folder = tmp_path_factory.mktemp("installed")
    command = [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--no-index"]
    subprocess.run([*command, "--target", str(folder), str(wheel)], check=True, capture_output=True)
    return folder


def run(installed: Path, *arguments: str, stdin: str = "") -> Done:
    return python("-m", "diagnose", *arguments, stdin=stdin, cwd=installed.parent, paths=installed)


def test_every_rule_file_is_in_the_wheel(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    rules = {path.relative_to(ROOT) for path in (ROOT / "knowledge").rglob("*.yaml")}
    assert {f"diagnose/{path.as_posix()}" for path in rules} <= names
    assert "diagnose/knowledge/schema.json" in names
    assert {"diagnose/terminal/screens/style.tcss", "diagnose/notes/templates/note.html"} <= names
    assert not [name for name in names if name.startswith(("tests/", "docs/", "knowledge/"))]
    assert not [name for name in names if "cache" in name.split("/")[-2] or name.endswith(".pyc")]


def test_it_needs_what_the_project_says(wheel: Path) -> None:
    archive = zipfile.ZipFile(wheel)
    (name,) = (name for name in archive.namelist() if name.endswith("/METADATA"))
    metadata = archive.read(name).decode()
    for needed in ("click", "jinja2", "numpy", "platformdirs", "pydantic", "pyyaml", "rapidfuzz"):
        assert f"\nRequires-Dist: {needed}" in metadata
    assert f"\nVersion: {__version__}\n" in metadata
    (entry,) = (name for name in archive.namelist() if name.endswith("/entry_points.txt"))
    assert "diagnose = diagnose.commands.main:main" in archive.read(entry).decode()


def test_the_installed_program_finds_its_own_rule_base(installed: Path) -> None:
    script = (
        "import diagnose, sys; from diagnose.rulebase.folder import knowledge_folder;"
        "print(diagnose.__file__, knowledge_folder())"
    )
    done = python("-c", script, cwd=installed.parent, paths=installed)
    here, knowledge = done.stdout.split()
    assert Path(here).is_relative_to(installed)
    assert Path(knowledge) == installed / "diagnose" / "knowledge"


def test_the_installed_program_works_a_reject(installed: Path) -> None:
    assert run(installed, "--version").stdout == f"{__version__}\n"
    worked = installed / "diagnose" / "knowledge" / "worked" / "pump-body-07.yaml"
    done = run(installed, "reject", "-", "--json", stdin=worked.read_text())
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["causes"][0]["id"] == "core-vent-blocked"
    note = run(installed, "reject", str(worked))
    assert (note.returncode, note.stderr) == (0, "")
    assert yaml.safe_load(worked.read_text())["reject"] in note.stdout


def test_the_installed_program_asks_line_by_line(installed: Path) -> None:
    done = run(installed, "--plain", stdin="quit\n")
    assert (done.returncode, done.stderr) == (0, "")


DRAWN = """
import asyncio
from diagnose.terminal.screens.app import DiagnoseApp
from diagnose.session.session import open_session
from diagnose.session.shelf import shelf

async def draw():
    app = DiagnoseApp(open_session(), shelf())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        print(app.screen.size.width, len(app.screen.children) > 0)

asyncio.run(draw())
"""


def test_the_installed_program_draws_its_screens(installed: Path) -> None:
    done = python("-c", DRAWN, cwd=installed.parent, paths=installed)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == "80 True\n"
