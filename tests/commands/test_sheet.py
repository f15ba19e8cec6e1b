"""``diagnose sheet``: what is printed, asked and written."""

from __future__ import annotations

import json
import re
import shlex
import shutil
import tempfile
from pathlib import Path
from typing import Any

import pytest
import yaml
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.basics.layout import WIDTH
from diagnose.commands import sheet as cli_sheet
from diagnose.commands.main import main
from diagnose.session.rejectfile import read_reject
from diagnose.session.session import open_session
from tests.conftest import ROOT
from tests.test_startup import imported

FILES = ROOT / "tests" / "sheets" / "files"
SAND = str(FILES / "sand-march.csv")
DAY = ("--date", "2026-03-14")


def run(*words: str, typed: str = "") -> Result:
    return CliRunner().invoke(main, ["sheet", *words], input=typed, prog_name="diagnose")


@pytest.fixture
def somebody(monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody sits at the terminal."""
    monkeypatch.setattr(cli_sheet, "_somebody_is_there", lambda: True)


@pytest.fixture
def reject(tmp_path: Path) -> Path:
    path = tmp_path / "cover.yaml"
    path.write_text(
        "reject: cover\nseen: [smooth round holes]\nmeasured: {mould hardness: 70 B}\n",
        encoding="utf-8",
    )
    return path


def in_file(path: Path) -> Any:
    return yaml.safe_load(path.read_text(encoding="utf-8"))


def test_what_was_recognised_is_shown_with_how_to_settle_the_rest() -> None:
    result = run(SAND)
    assert result.exit_code == 0
    assert "E   Moisture (%): moulding sand moisture, in %" in result.output
    assert "G   Temp °F: not settled" in result.output
    assert "--column 'column G=moulding sand temperature'" in result.output
    assert "--date 2026-03-14: 14 March 2026" in result.output
    assert max(map(len, result.output.splitlines())) <= WIDTH


def test_every_option_that_is_offered_works() -> None:
    doubts = json.loads(run(SAND, "--json").output)["doubts"]
    options = [way["option"] for doubt in doubts for way in doubt["ways"]]
    assert len(options) >= 2
    for option in options:
        assert run(SAND, *shlex.split(option)).exit_code == 0


def test_readings_with_their_cells_and_ages() -> None:
    result = run(SAND, *DAY, "--poured", "2026-03-14 15:30", "--column", "Temp °F=sand temp")
    assert "moulding sand moisture: 4.4 % (E7, 9 h before pouring); 4.6 % (E8, 2 h 10 min" in (
        " ".join(result.output.split())
    )
    assert "in degF (as you said)" in result.output


def test_as_data() -> None:
    data = json.loads(run(SAND, "--heat", "17", "--poured", "2026-03-14 15:30", "--json").output)
    assert data["rows"] == [7, 8]
    assert data["columns"][4] == {
        "column": "E", "heading": "Moisture (%)", "holds": "sand-moisture", "unit": "%",
        "how": "named", "why": "",
    }  # fmt: skip
    assert data["readings"][0] == {
        "id": "sand-moisture", "value": 4.4, "unit": "%", "cell": "E7", "row": 7,
        "date": "2026-03-14", "time": "06:30", "minutes_before_pouring": 540.0,
        "days_before_pouring": 0,
    }  # fmt: skip


def test_readings_go_into_a_reject_and_nothing_else_is_changed(reject: Path) -> None:
    before = open_session()
    read_reject(reject, before)
    result = run(SAND, *DAY, "--into", str(reject), "--yes")
    assert result.exit_code == 0
    assert f"Written: {reject}" in result.output
    after = open_session()
    read_reject(reject, after)
    added = {"sand-moisture", "sand-permeability"}
    assert {one for one in after.reject.found if one.id not in added} == {*before.reject.found}
    assert in_file(reject)["measured"]["sand-moisture"] == "4.4; 4.6 %"


def test_a_reading_that_stands_there_is_not_written_over_unasked(reject: Path) -> None:
    run(SAND, *DAY, "--into", str(reject), "--yes")
    result = run(SAND, "--row", "5", "--into", str(reject), "--yes")
    assert result.exit_code == 0
    assert "Left as it is: moulding sand moisture, 4.4; 4.6 %; the sheet says 3.8 %." in (
        result.output
    )
    assert "add --replace" in result.output
    assert in_file(reject)["measured"]["sand-moisture"] == "4.4; 4.6 %"
    run(SAND, "--row", "5", "--into", str(reject), "--yes", "--replace")
    assert in_file(reject)["measured"]["sand-moisture"] == "3.8 %"


def test_the_data_say_what_was_written_and_what_was_kept(reject: Path) -> None:
    run(SAND, "--row", "5", "--into", str(reject), "--yes")
    text = reject.read_text(encoding="utf-8")
    result = run(SAND, "--row", "6", "--into", str(reject), "--yes", "--json")
    data = json.loads(result.output)
    assert (data["written"], data["same"]) == ([], [])
    assert data["kept"][0] == {"id": "sand-moisture", "reject": [3.8], "sheet": [4.1]}
    assert reject.read_text(encoding="utf-8") == text


def test_where_a_heat_is_not_there_all_that_are_there_are_told(tmp_path: Path) -> None:
    path = tmp_path / "sand.csv"
    rows = "".join(f"{heat},3.5\n" for heat in range(1, 41))
    path.write_text(f"heat,moulding sand moisture %\n{rows}", encoding="utf-8")
    done = run(str(path), "--heat", "99")
    assert done.exit_code == 1
    said = done.output.partition("There is ")[2]
    assert [int(text) for text in re.findall(r"\d+", said)] == [*range(1, 41)]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((*DAY,), "Nothing was written, as nobody confirmed it. If all is right, add --yes."),
        (("--yes",), "Nothing was written: no reading was taken from the sheet."),
    ],
)
def test_nothing_is_written_unconfirmed(reject: Path, words: tuple[str, ...], says: str) -> None:
    text = reject.read_text(encoding="utf-8")
    result = run(SAND, *words, "--into", str(reject))
    assert (result.exit_code, result.stderr.strip()) == (1, says)
    assert reject.read_text(encoding="utf-8") == text


def test_somebody_is_asked_and_confirms(somebody: None, reject: Path) -> None:
    result = run(SAND, *DAY, "--into", str(reject), typed="99\n3\ny\n")
    assert result.exit_code == 0, result.output
    assert "Column G 'Temp °F' could be" in result.output
    assert "99 is not in the range" in result.output
    assert "Are the columns and the readings right? Write the readings into" in result.output
    assert in_file(reject)["measured"].keys() == {
        "mould hardness", "sand-moisture", "sand-permeability", *_third_choice(),
    }  # fmt: skip


def _third_choice() -> set[str]:
    ways = json.loads(run(SAND, *DAY, "--json").output)["doubts"][0]["ways"]
    (means,) = (
        entry
        for entry, measurement in open_session().book.measurements.items()
        if measurement.name == ways[2]["words"]
    )
    return {means}


def test_somebody_says_no(somebody: None, reject: Path) -> None:
    text = reject.read_text(encoding="utf-8")
    result = run(SAND, *DAY, "--into", str(reject), typed="0\nn\n")
    assert result.exit_code == 1
    assert "Nothing was written. Say what a column holds with --column" in result.stderr
    assert reject.read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((SAND, "--date", "03/04/2026"), "--date: '03/04/2026' may be 4 March 2026 or 3 April"),
        ((SAND, "--poured", "noon"), "--poured: 'noon' is no date."),
        ((SAND, "--column", "Feuchte"), "'Feuchte' is not of the form HEADING=NAME"),
        ((SAND, "--column", "Perm=cheese"), "There is no measurement called 'cheese'."),
        ((SAND, "--unit", "furlong"), "'furlong' is not a unit known here."),
        ((SAND, "--heat", "99"), "No row is of heat '99'."),
        (("none.csv",), "none.csv: There is no such file."),
        ((str(FILES / "locked.xlsx"),), "locked with a password"),
        ((str(FILES / "two-tables.csv"),), "Say --header 1 (take row 1); --header 5"),
        ((SAND, *DAY, "--into", "none.yaml", "--yes"), "none.yaml: There is no such file."),
    ],
)
def test_what_is_wrong_is_told_in_lines(words: tuple[str, ...], says: str) -> None:
    result = run(*words)
    assert result.exit_code == 1
    assert says in result.stderr
    assert "Traceback" not in result.output


@settings(max_examples=40)
@given(st.binary(max_size=400))
def test_any_bytes_are_told_about_in_lines(raw: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "log.csv")
        path.write_bytes(raw)
        result = run(str(path), "--yes")
    assert result.exit_code in (0, 1)
    assert result.exception is None or isinstance(result.exception, SystemExit)


CELLS = st.one_of(
    st.sampled_from(
        ["Date", "Time", "Heat", "Moisture (%)", "Temp °F", "perm", "%", "2026-03-14", "14.03.2026",
         "03/04/26", "06:30", "4,6", "1.310", "-3", "n/a", "Mean", "17", "4.6 %", ""]
    ),
    st.text(max_size=5),
)  # fmt: skip
PICKS = st.sampled_from(
    [(), ("--heat", "17"), DAY, ("--poured", "2026-03-14 12:00"), ("--row", "2"), ("--carry",),
     ("--header", "1"), ("--decimal", "comma"), ("--order", "mdy", "--poured", "2026-03-14")]
)  # fmt: skip


@settings(max_examples=80)
@given(st.lists(st.lists(CELLS, max_size=6), max_size=8), PICKS)
def test_any_table_is_told_about_in_lines(rows: list[list[str]], pick: tuple[str, ...]) -> None:
    text = "\n".join(";".join(cell.replace(";", "") for cell in row) for row in rows)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "log.csv")
        path.write_text(text, encoding="utf-8", errors="replace")
        result = run(str(path), "--yes", "--unit", "%", *pick)
    assert result.exit_code in (0, 1)
    assert result.exception is None or isinstance(result.exception, SystemExit)


def test_comments_stay_and_only_readings_are_put_in(reject: Path) -> None:
    text = (
        "# of the day shift\nreject: cover  # the second one\nseen:\n- smooth holes  # many\n"
        "measured:\n  mould hardness: 70 B   # the gauge was new\n"
    )
    reject.write_text(text, encoding="utf-8")
    result = run(SAND, *DAY, "--into", str(reject), "--yes")
    assert result.output.endswith(f"Written: {reject}\n")
    after = reject.read_text(encoding="utf-8")
    assert after.startswith(text)
    assert set(in_file(reject)["measured"]) > {"mould hardness"}


def test_a_replaced_reading_stays_on_its_line(reject: Path) -> None:
    moisture = "moulding sand moisture: 9.9 %  # by the old balance"
    reject.write_text(f"reject: cover\nmeasured:\n  {moisture}\n  mould hardness: 70 B\n")
    run(SAND, *DAY, "--into", str(reject), "--yes", "--replace")
    lines = reject.read_text(encoding="utf-8").splitlines()
    assert lines[2].startswith("  moulding sand moisture: ")
    assert "9.9" not in lines[2]
    assert lines[2].endswith("# by the old balance")


def test_the_page_on_sheets_names_every_option_and_no_other() -> None:
    page = (ROOT / "docs" / "sheets.md").read_text(encoding="utf-8")
    options = {name for param in cli_sheet.sheet.params for name in (*param.opts,
               *param.secondary_opts) if name.startswith("--")}  # fmt: skip
    assert set(re.findall(r"--[a-z][a-z-]*", page)) == options - {"--knowledge"}


def test_a_sheet_needs_no_screen_and_no_validator() -> None:
    imported("sheet", SAND)
    modules = imported("sheet", SAND, *DAY)
    assert not modules & {
        "asyncio", "jinja2", "networkx", "openpyxl", "pydantic", "python_calamine", "textual",
    }  # fmt: skip


def test_the_tables_of_the_tests_are_all_read(tmp_path: Path) -> None:
    for path in FILES.iterdir():
        if path.name not in ("locked.xlsx", "two-tables.csv"):
            shutil.copy(path, tmp_path)
            assert run(str(tmp_path / path.name)).exit_code == 0


def test_the_readings_go_into_a_file_and_no_stream(reject: Path) -> None:
    result = run(SAND, *DAY, "--into", "-", "--yes")
    assert result.exit_code == 1
    assert "--into takes the name of a reject file" in result.output
