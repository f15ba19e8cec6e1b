"""``diagnose shop check``, run by itself and as its users run it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from diagnose.commands.main import main
from tests.program import diagnose, python
from tests.session.windows.test_read import BAD
from tests.shopbook import SHOP

REJECT = "seen: [smooth round holes]\nmeasured: {moulding sand moisture: 4.4 %}\n"


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The shop file in use: that of a made-up foundry."""
    path = tmp_path / "shop.yaml"
    path.write_text(SHOP, encoding="utf-8")
    monkeypatch.setenv("DIAGNOSE_SHOP", str(path))
    return path


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["shop", "check", *words])


def test_which_file_is_used_and_each_window_beside_the_books(shop: Path) -> None:
    result = run()
    assert result.exit_code == 0
    lines = result.output.splitlines()
    assert lines[:3] == [
        f"Shop file: {shop} (Brook Lane Foundry)",
        f"  Looked for: {shop} (used)",
        "  Made unless a reject says otherwise: grey iron, green sand",
    ]
    at = lines.index("moulding sand moisture")
    assert lines[at + 1] == "  any section: 3 to 3.8 %, the shop's own: mill card of March"
    assert lines[at + 2].startswith("    the book, any section: ")
    assert "  section up to 10 mm: 1380 to 1430 degC, the shop's own" in lines
    assert "  any other section: 1340 to 1400 degC, the shop's own" in lines
    assert any(line.startswith("  pouring temperature: 5 degC, the book ") for line in lines)
    assert all(len(line) <= 80 for line in lines[2:])


def test_what_differs_is_said(shop: Path) -> None:
    shop.write_text(
        "windows:\n  sand-moisture: {high: 3.8, unit: '%'}\n"
        "  sand-compactability: {low: 35, high: 50, unit: '%'}\n"
    )
    output = " ".join(run().output.split())
    assert "lower here" in output
    assert "only the book has a low" in output
    assert "; much the same" in output


def test_the_same_for_machines(shop: Path) -> None:
    result = run("--json")
    assert result.exit_code == 0
    data = json.loads(result.output)
    assert data["file"] == str(shop)
    assert data["looked_for"] == [{"path": str(shop), "there": True}]
    assert (data["shop"], data["metal"], data["process"]) == (
        "Brook Lane Foundry", "grey iron", "green sand",
    )  # fmt: skip
    first = data["windows"][0]
    assert first["measurement"] == "sand-moisture"
    assert (first["low"], first["high"], first["unit"]) == (3.0, 3.8, "%")
    assert first["source"] == ["the shop's own: mill card of March"]
    for theirs in first["book"]:
        assert theirs["off"]["high"] == pytest.approx(3.8 - theirs["high"])
        assert "high" in theirs["telling"]
    assert data["repeatability"][0]["shop"] == 0.1
    assert data["faults"] == []


@pytest.mark.parametrize("bad", BAD, ids=lambda path: path.stem)
def test_a_bad_file_ends_with_status_1(bad: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the book that comes with the program the faults may be worded otherwise."""
    monkeypatch.setenv("DIAGNOSE_SHOP", str(bad))
    result = run()
    assert result.exit_code == 1
    assert isinstance(result.exception, SystemExit)
    told = [line for line in result.output.splitlines() if line.startswith(str(bad))]
    assert result.output.splitlines()[-1] == f"{len(told)} fault{'s' if len(told) > 1 else ''}"
    for_machines = run("--json")
    assert for_machines.exit_code == 1
    faults = json.loads(for_machines.output)["faults"]
    assert len(faults) == len(told) > 0
    assert all(fault["file"] == str(bad) and fault["what"] for fault in faults)


def test_without_a_file_the_books_windows_hold() -> None:
    result = run()
    assert result.exit_code == 0
    assert result.output == (
        "No shop file: the book's windows hold.\n  Looked for: none, as DIAGNOSE_SHOP says\n"
    )
    data = json.loads(run("--json").output)
    assert (data["file"], data["looked_for"], data["windows"]) == (None, [], [])


def test_a_file_that_was_named_but_is_not_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DIAGNOSE_SHOP", "gone.yaml")
    result = run()
    assert result.exit_code == 1
    assert "  Looked for: gone.yaml (not there)" in result.output
    assert "gone.yaml: There is no such file. Check the name.\n\n1 fault\n" in result.output


# as its users run it


def test_the_file_in_the_working_folder_is_used_by_a_reject(tmp_path: Path) -> None:
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    done = python(
        "-m", "diagnose", "reject", "-", stdin=REJECT, cwd=tmp_path,
        DIAGNOSE_SHOP=None, XDG_CONFIG_HOME=str(tmp_path),
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "above the shop's own" in " ".join(done.stdout.split())
    assert "The metal is not said: taken as grey iron." in done.stdout


def test_a_shop_of_another_process_is_taken_for_it(tmp_path: Path) -> None:
    path = tmp_path / "shop.yaml"
    path.write_text("process: dry sand", encoding="utf-8")
    done = diagnose("reject", "-", stdin=REJECT, DIAGNOSE_SHOP=str(path))
    assert done.returncode == 0, done.stderr
    assert "The process is not said: taken as dry sand." in done.stdout


@pytest.mark.parametrize("arguments", [("reject", "-"), ("--plain",)])
def test_a_bad_file_stops_every_session(tmp_path: Path, arguments: tuple[str, ...]) -> None:
    path = tmp_path / "shop.yaml"
    path.write_text("windows: {sand-moisture: {low: 4, high: 3, unit: '%'}}", encoding="utf-8")
    done = diagnose(*arguments, stdin=REJECT, DIAGNOSE_SHOP=str(path))
    assert done.returncode == 1
    assert done.stderr == (f"{path}:1:32: The window runs from 4 to 3. Low must be below high.\n")
    assert done.stdout == ""


def test_the_list_of_readings_says_whose_window_it_is(tmp_path: Path) -> None:
    path = tmp_path / "shop.yaml"
    path.write_text(SHOP, encoding="utf-8")
    rejects = str(tmp_path / "rejects")
    done = diagnose(
        "--plain", stdin="reading\nquit\n", DIAGNOSE_SHOP=str(path), DIAGNOSE_REJECTS=rejects
    )
    assert "moulding sand moisture: 3 to 3.8 %, the shop's own" in done.stdout
    assert "green compression strength of the sand: " in done.stdout
