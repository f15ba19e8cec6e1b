from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from diagnose.commands.book import book
from diagnose.commands.main import main
from tests import shipped

GOOD = Path(__file__).parents[1] / "rulebase" / "good"


@pytest.fixture
def faulty(tmp_path: Path) -> Path:
    folder = tmp_path / "book"
    shutil.copytree(GOOD, folder)
    shutil.copy(GOOD.parent / "bad" / "cycles.yaml", folder / "sand" / "bad.yaml")
    return folder


def run(*words: str) -> Result:
    return CliRunner().invoke(book, list(words))


def test_check_of_a_good_book() -> None:
    result = run("check", "--knowledge", str(GOOD))
    assert result.exit_code == 0
    assert result.output.startswith("0 faults\n")
    assert "links by source: read 25%, common practice 25%, from memory 50%" in result.output


def test_check_of_a_faulty_book(faulty: Path) -> None:
    result = run("check", "--knowledge", str(faulty))
    assert result.exit_code == 1
    assert "sand/bad.yaml:16:14: A circle: crust-soft > sand-loose > crust-soft." in result.output
    assert "\n1 fault\n" in result.output
    assert "accounts" not in result.output


def test_check_for_machines(faulty: Path) -> None:
    data = json.loads(run("check", "--json", "--knowledge", str(faulty)).output)
    (fault,) = data["faults"]
    assert (fault["line"], fault["column"]) == (16, 14)
    assert fault["file"].endswith("bad.yaml")
    assert fault["instead"]
    assert data["counts"]["defects"] == 2
    assert data["aliases"] == {}
    told = json.loads(run("check", "--json").output)
    assert told["aliases"] == shipped.book().renamed


def test_the_environment_names_the_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DIAGNOSE_KNOWLEDGE", str(GOOD))
    assert "defects: 2\n" in run("check").output


@pytest.mark.parametrize("command", [["check"], ["show", "x"], ["find", "x"], ["links"]])
def test_a_missing_folder_is_said_in_words(command: list[str], tmp_path: Path) -> None:
    result = run(*command, "--knowledge", str(tmp_path / "none"))
    assert result.exit_code == 1
    assert "There is no such folder." in result.output
    assert "Traceback" not in result.output


def test_a_faulty_book_is_not_shown(faulty: Path) -> None:
    result = run("show", "blow", "--knowledge", str(faulty))
    assert result.exit_code == 1
    assert "16:14: A circle" in result.output


def test_show_by_several_words() -> None:
    result = run("show", "Wet", "sand", "--knowledge", str(GOOD))
    assert result.exit_code == 0
    assert result.output.startswith("sand too wet (condition sand-too-wet)\n")


def test_show_for_machines() -> None:
    (entry,) = json.loads(run("show", "blow", "--json", "--knowledge", str(GOOD)).output)
    assert entry["kind"] == "defect"
    assert entry["linked"]["brought about by"] == ["gas-excess"]


def test_show_of_what_is_not_there() -> None:
    result = run("show", "blw", "--knowledge", str(GOOD))
    assert result.exit_code == 1
    assert "Did you mean 'blow'" in result.output


def test_find() -> None:
    lines = run("find", "wet", "sand", "--knowledge", str(GOOD)).output.splitlines()
    assert lines[0].split()[:2] == ["condition", "sand-too-wet"]
    data = json.loads(run("find", "wet sand", "--json", "--knowledge", str(GOOD)).output)
    assert data[0] == {
        "kind": "condition",
        "score": 100.0,
        "id": "sand-too-wet",
        "words": "wet sand",
    }


def test_find_nothing() -> None:
    result = run("find", "qqqq", "--knowledge", str(GOOD))
    assert result.exit_code == 0
    assert "Nothing in the book is like 'qqqq'" in result.output


def test_links_of_the_small_book_worked_by_hand() -> None:
    """Base rate x strengths x chance of what is needed, scaled to 1 - none of these (0.96).

    wet > gas > blow 0.05 x 0.75 x 0.5; wet > pinholes 0.05 x 0.1 x 0.02, as it needs the thin
    section; thin > pinholes 0.02 x 0.1.
    """
    rough = [0.05 * 0.75 * 0.5, 0.02 * 0.1, 0.05 * 0.1 * 0.02]
    data = json.loads(run("links", "--json", "--knowledge", str(GOOD)).output)
    assert [entry["prior"] for entry in data] == pytest.approx(
        [0.96 * weight / sum(rough) for weight in rough]
    )
    assert data[0] == {
        "root": {"id": "sand-too-wet", "name": "sand too wet", "area": "sand"},
        "path": ["sand-too-wet", "gas-excess"],
        "defect": {"id": "blow", "name": "blow"},
        "prior": data[0]["prior"],
        "sources": ["shop-book", "common practice"],
    }


def test_links_in_lines() -> None:
    first = run("links", "--knowledge", str(GOOD)).output.splitlines()[0]
    assert first.split("  ")[-1] == "sand-too-wet > gas-excess > blow"


def test_links_of_the_shipped_book_add_up() -> None:
    data = json.loads(run("links", "--json").output)
    assert sum(entry["prior"] for entry in data) == pytest.approx(0.96, abs=1e-9)
    assert all(entry["sources"] for entry in data)


@pytest.mark.parametrize("command", ["check", "show", "find", "links"])
def test_every_command_has_help(command: str) -> None:
    result = run(command, "--help")
    assert result.exit_code == 0
    assert "--json" in result.output


def test_a_defect_and_a_look_are_drawn() -> None:
    drawn = run("draw", "rat", "tail").output
    assert "+---" in drawn
    assert drawn.isascii()
    answers = run("draw", "cavity-wall").output
    assert "1  smooth, as if blown" in answers


def test_drawings_are_written_as_pictures(tmp_path: Path) -> None:
    result = run("draw", "drop", "--svg", str(tmp_path))
    written = result.output.split()
    assert len(written) == 2
    for path in written:
        assert Path(path).read_text("utf-8").startswith("<svg ")


def test_what_has_no_drawing_is_told() -> None:
    result = run("draw", "sand-too-wet")
    assert result.exit_code == 1
    assert "There is no drawing of 'sand-too-wet'" in result.output


def test_a_folder_that_cannot_be_written_to_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    result = run("draw", "drop", "--svg", str(tmp_path / "file"))
    assert result.exit_code == 1
    assert "cannot be written" in result.output


def test_shares_of_one_defect_add_up(monkeypatch: pytest.MonkeyPatch) -> None:
    data = json.loads(run("shares", "shift", "--metal", "cast iron", "--json").output)
    assert list(data) == ["shift"]
    assert "box-pins-worn" in list(data["shift"])[:3]
    first, *causes = run("shares", "shift", "--metal", "grey iron").output.splitlines()
    assert first.split() == [f"{sum(data['shift'].values()):.2%}", "shift"]
    assert sum(float(line.split("%")[0]) for line in causes) == pytest.approx(100, abs=2)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["shares", "sand-too-wet"], "'sand-too-wet' is no defect."),
        (["shares", "--metal", "tin"], "'tin' is no metal known here."),
    ],
)
def test_shares_of_what_is_not_there(words: list[str], told: str) -> None:
    result = run(*words)
    assert result.exit_code == 1
    assert told in result.output


def test_the_page_of_faults_in_the_documents_is_that_of_the_book(tmp_path: Path) -> None:
    """Made anew by ``diagnose book faults docs`` whenever the book changes."""
    result = run("faults", str(tmp_path))
    assert result.output == f"{tmp_path / 'faults.md'}\n"
    docs = Path(__file__).parents[2] / "docs"
    made = {path.relative_to(tmp_path): path.read_bytes() for path in tmp_path.rglob("*.[ms][dv]*")}
    kept = {
        path.relative_to(docs): path.read_bytes()
        for path in (docs / "faults.md", *(docs / "faults").iterdir())
    }
    assert made.keys() == kept.keys()
    assert made == kept


@pytest.mark.parametrize("words", [["check"], ["show", "blow"], ["find", "wet"], ["links"]])
def test_a_folder_named_before_the_command_holds_for_it(words: list[str], tmp_path: Path) -> None:
    nowhere = tmp_path / "nowhere"
    missing = CliRunner().invoke(main, ["--knowledge", str(nowhere), "book", *words])
    assert missing.exit_code == 1
    assert "There is no such folder" in missing.output
    good = CliRunner().invoke(main, ["--knowledge", str(GOOD), "book", "check"])
    assert (good.exit_code, good.output.splitlines()[0]) == (0, "0 faults")
    assert "defects: 2" in good.output
