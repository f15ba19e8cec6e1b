"""``diagnose batch``: what is printed, written and refused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from diagnose.commands import batch as command
from diagnose.commands.main import main
from tests.batch.small import Sheets, write
from tests.test_startup import imported


def run(*words: str, typed: str = "") -> Result:
    return CliRunner().invoke(main, ["batch", *words], input=typed, prog_name="diagnose")


@pytest.fixture(autouse=True)
def words_of_nobody(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DIAGNOSE_WORDS", str(tmp_path / "words.yaml"))


@pytest.fixture
def sheets(tmp_path: Path) -> Sheets:
    return write(tmp_path)


def given(sheets: Sheets) -> tuple[str, ...]:
    return (
        str(sheets.scrap), "--poured", str(sheets.poured), "--readings", str(sheets.readings),
    )  # fmt: skip


def test_json_has_the_promised_keys_and_rows_add_up(sheets: Sheets) -> None:
    done = run(*given(sheets), "--json")
    assert done.exit_code == 0, done.output
    data = json.loads(done.stdout)
    rows = data["rows"]
    assert rows["read"] == rows["used"] + rows["set_aside"]
    assert data["pareto"][0]["defect"] == "blow-core-gas"
    assert {
        "pareto", "signals", "changes", "concentration", "readings", "causes", "unknown_words",
        "warnings",
    } <= data.keys()  # fmt: skip


def test_to_a_pipe_it_is_told_in_plain_lines(sheets: Sheets) -> None:
    done = run(*given(sheets))
    assert done.exit_code == 0, done.output
    assert "Scrap batch: scrap.csv" in done.stdout
    assert "blow from core gas: core maker B" in done.stdout
    assert done.stdout.count("\x1b") == 0
    assert not sheets.scrap.with_name("scrap.csv.columns.yaml").exists()


def test_the_pack_is_written_with_the_actions_kept_beside_the_sheet(
    sheets: Sheets, tmp_path: Path
) -> None:
    kept = sheets.scrap.with_name("scrap-actions.yaml")
    kept.write_text("actions:\n- text: bake longer\n  owner: A. Example\n", encoding="utf-8")
    done = run(*given(sheets), "--json", "--pack", str(tmp_path / "pack"))
    assert done.exit_code == 0, done.output
    page = (tmp_path / "pack" / "scrap-pack.html").read_text(encoding="utf-8")
    assert "Bake longer." in page
    assert "Written: " in done.stderr


def test_actions_that_cannot_be_read_stop_it_before_the_sheet_is_read(sheets: Sheets) -> None:
    sheets.scrap.with_name("scrap-actions.yaml").write_text("actions: 3\n", encoding="utf-8")
    done = run(*given(sheets), "--json")
    assert done.exit_code == 1
    assert "no list under 'actions:'" in done.stderr


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["no-such.csv"], "no-such.csv"),
        (["compare", "a.csv"], "Two sheets are compared"),
        (["compare", "a.csv", "b.csv", "--poured", "c.csv"], "Two sheets are compared"),
        (["a.csv", "--poured", "b.csv", "--poured", "c.csv"], "--poured is given once"),
        (["a.csv", "--column", "Grund"], "HEADING=NAME"),
        (["a.csv", "--teach", "BL7"], "WORD=FAULT"),
        (["a.csv", "--teach", "BL7=gribbly"], "is no fault known here"),
    ],
)
def test_what_is_wrong_is_said_in_a_line(words: list[str], says: str) -> None:
    done = run(*words)
    assert done.exit_code == 1
    assert says in done.stderr
    assert "Traceback" not in done.stderr


def test_a_word_can_be_taught(sheets: Sheets, tmp_path: Path) -> None:
    text = sheets.scrap.read_text(encoding="utf-8").replace(";misrun;", ";QX7;")
    sheets.scrap.write_text(text, encoding="utf-8")
    before = json.loads(run(*given(sheets), "--json").stdout)
    assert [one["word"] for one in before["unknown_words"]] == ["QX7"]
    done = run(*given(sheets), "--json", "--teach", "QX7=misrun")
    assert "Taught: QX7 is misrun." in done.stderr
    after = json.loads(done.stdout)
    assert after["unknown_words"] == []
    assert "misrun" in {bar["defect"] for bar in after["pareto"]}
    assert (tmp_path / "words.yaml").exists()


def test_before_and_after_are_compared(sheets: Sheets, tmp_path: Path) -> None:
    (tmp_path / "later").mkdir()
    later = write(tmp_path / "later", bad_maker=0.02, seed=8)
    words = (
        "compare", str(sheets.scrap), str(later.scrap), "--poured", str(sheets.poured),
        "--poured", str(later.poured),
    )  # fmt: skip
    text = run(*words)
    assert text.exit_code == 0, text.output
    assert "fell with a probability of" in text.stdout
    data = json.loads(run(*words, "--json").stdout)
    assert data["all"]["fell"] > 0.99


def test_headings_are_confirmed_once_where_somebody_is_there(
    sheets: Sheets, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(command, "_ask", lambda options: command._choose)
    done = run(*given(sheets), "--plain", typed="\n\n\n")
    assert done.exit_code == 0, done.output
    assert "Core maker: core maker" in done.stdout
    assert sheets.scrap.with_name("scrap.csv.columns.yaml").exists()
    again = run(*given(sheets), "--plain", typed="")
    assert again.exit_code == 0, again.output
    stopped = run(str(sheets.poured), "--plain", typed="2\n")
    assert stopped.exit_code == 1


def test_the_help_names_the_comparison_and_loads_nothing_heavy() -> None:
    modules = imported("batch", "--help")
    assert not modules & {"numpy", "duckdb", "ibis", "scipy", "statsmodels", "textual", "jinja2"}
    assert "compare BEFORE AFTER" in run("--help").stdout
