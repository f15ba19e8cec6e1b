"""One bad file a fault, in ``../bad``, named after the check that finds it.

Each is put beside the small faultless book (or in the place of the file it says it replaces), and
lists at its end, after ``#=``, what must be found: line, column and words.
"""

from __future__ import annotations

import importlib
import re
import shutil
from pathlib import Path

import pytest

from diagnose.basics.errors import Problem
from diagnose.rulebase.checks import run as runner
from diagnose.rulebase.checks.run import MUST_HOLD, OUGHT_TO_HOLD, run
from diagnose.rulebase.reading import draft

HERE = Path(__file__).parent
GOOD = HERE.parent / "good"
BAD = sorted((HERE.parent / "bad").glob("*.yaml"))
CHECKS = sorted(
    path.stem
    for path in Path(runner.__file__).parent.glob("*.py")
    if path.stem not in ("__init__", "run")
)
QUOTING = re.compile(
    r"is called '([^']+)'|^'([^']+)' is (?:no word|not one|no id)|^The key '([^']+)' is not"
)


def place_of(bad: Path) -> str:
    """Return the file of the small book as which a bad file stands in."""
    replaced = re.search(r"^# replaces: (.+)$", bad.read_text(encoding="utf-8"), re.MULTILINE)
    return replaced.group(1) if replaced else "sand/bad.yaml"


def put_together(bad: Path, folder: Path) -> None:
    shutil.copytree(GOOD, folder)
    shutil.copy(bad, folder / place_of(bad))


def shown(problem: Problem, folder: Path, bad: Path) -> str:
    """Write a problem as the bad files do: the file's name only where it is another one."""
    file = Path(problem.place.file).resolve().relative_to(folder.resolve()).as_posix()
    where = "" if file == place_of(bad) else f"{file} "
    place = f"{where}{problem.place.line}:{problem.place.column}"
    return f"#= {place} {problem.what} {problem.instead}".rstrip()


@pytest.fixture(params=BAD, ids=lambda path: path.stem)
def bad(request: pytest.FixtureRequest) -> Path:
    path: Path = request.param
    return path


def expected(bad: Path) -> list[str]:
    lines = bad.read_text(encoding="utf-8").splitlines()
    return [line for line in lines if line.startswith("#= ")]


def test_every_fault_is_found_in_its_place(
    bad: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "book"
    put_together(bad, folder)
    monkeypatch.chdir(folder)
    found = [shown(problem, folder, bad) for problem in run(draft(folder))]
    assert found == expected(bad)
    assert found


def quoted() -> list[tuple[str, str, str]]:
    """Return each bad file with the words complained of and the text at the place that is told."""
    found = []
    for bad in BAD:
        lines = bad.read_text(encoding="utf-8").splitlines()
        for entry in expected(bad):
            place = re.match(r"#= (\d+):(\d+) (.*)", entry)
            word = QUOTING.search(place.group(3)) if place else None
            if place and word:
                line, column = int(place.group(1)) - 1, int(place.group(2)) - 1
                named = next(part for part in word.groups() if part)
                found.append((bad.stem, named, lines[line][column:].lstrip("'\"")))
    return found


def test_places_point_at_the_word_that_is_wrong() -> None:
    """An independent look: the text at line and column begins with the word complained of."""
    found = quoted()
    wrong = [(bad, named, text) for bad, named, text in found if not text.startswith(named)]
    assert wrong == []
    assert len(found) >= 40
    assert len({bad for bad, _, _ in found}) >= 11


@pytest.mark.parametrize("name", CHECKS)
def test_every_check_alone_finds_its_own_faults(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    check = importlib.import_module(f"diagnose.rulebase.checks.{name}").check
    files = [path for path in BAD if path.stem.split("--")[0] == name.replace("_", "-")]
    assert files, f"no bad file for {name}"
    for number, bad in enumerate(files):
        folder = tmp_path / str(number)
        put_together(bad, folder)
        monkeypatch.chdir(folder)
        found = {shown(problem, folder, bad) for problem in check(draft(folder))}
        assert found == set(expected(bad))


@pytest.mark.parametrize("name", CHECKS)
def test_every_check_runs_and_has_its_manual_page(name: str) -> None:
    module = importlib.import_module(f"diagnose.rulebase.checks.{name}")
    assert module.check in MUST_HOLD + OUGHT_TO_HOLD
    assert "Passes:" in module.__doc__
    assert "Fails:" in module.__doc__


def test_the_good_book_is_faultless() -> None:
    assert run(draft(GOOD)) == []


def test_the_shipped_book_is_faultless() -> None:
    assert [str(problem) for problem in run(draft())] == []


def test_problems_come_sorted_by_place_and_once(tmp_path: Path) -> None:
    shutil.copytree(GOOD, tmp_path / "book")
    for name in ("b.yaml", "a.yaml"):
        (tmp_path / "book" / name).write_text("glossary: {x: 1}\nlooks: []\n")
    problems = run(draft(tmp_path / "book"))
    assert problems == sorted(set(problems))
    assert [Path(problem.place.file).name for problem in problems] == ["a.yaml"] * 3 + [
        "b.yaml"
    ] * 4
