"""The commands as outside programs use them: what they print, and the exit status."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from diagnose import __version__
from diagnose.commands.main import main
from diagnose.notes.report import NOTHING
from diagnose.reject.found import LIKELY, SURE
from tests.conftest import ROOT
from tests.program import Done, diagnose
from tests.session.test_rejectfile import BAD, EXAMPLE

WORKED = ROOT / "knowledge" / "worked" / "cover-0412.yaml"
SMALL_BOOK = ROOT / "tests" / "terminal" / "screens" / "small-book"


@pytest.fixture
def reject(tmp_path: Path) -> Path:
    path = tmp_path / "reject.yaml"
    path.write_text(EXAMPLE, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def data() -> Any:
    """The JSON of a reject with something of everything in it."""
    seen = "  - like the moon through a wet window\n  - sand or slag in the holes\nchecked:"
    text = EXAMPLE.replace("checked:", seen, 1)
    found = CliRunner().invoke(main, ["reject", "--json", "--accounts", "99999", "-"], input=text)
    assert found.exit_code == 0, found.output
    return json.loads(found.stdout)


# the JSON


@pytest.mark.parametrize(("asked", "given"), [([], 50), (["--accounts", "7"], 7)])
def test_as_many_accounts_as_were_asked_for(reject: Path, asked: list[str], given: int) -> None:
    """The likeliest of them, and everything else as it is."""
    found = CliRunner().invoke(main, ["reject", "--json", *asked, str(reject)])
    whole = CliRunner().invoke(main, ["reject", "--json", "--accounts", "99999", str(reject)])
    few, all_of_them = json.loads(found.stdout), json.loads(whole.stdout)
    assert len(few["accounts"]) == given < len(all_of_them["accounts"])
    assert few["accounts"] == all_of_them["accounts"][:given]
    assert {**few, "accounts": []} == {**all_of_them, "accounts": []}


def test_no_accounts_and_fewer_than_none(reject: Path) -> None:
    none = CliRunner().invoke(main, ["reject", "--json", "--accounts", "0", str(reject)])
    assert json.loads(none.stdout)["accounts"] == []
    fewer = CliRunner().invoke(main, ["reject", "--json", "--accounts", "-1", str(reject)])
    assert fewer.exit_code == 2
    assert "--accounts" in fewer.output


def test_the_keys_of_the_json(data: Any) -> None:
    assert list(data) == [
        "reject", "causes", "defects", "accounts", "ask_next", "plan", "standings", "understood",
        "not_understood", "warnings", "notes", "stability",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("key", "shape"),
    [
        ("causes", {"id": str, "name": str, "area": str, "probability": float}),
        ("defects", {"id": str, "name": str, "probability": float}),
        ("accounts", {"path": list, "probability": float}),
        (
            "ask_next",
            {"id": str, "kind": str, "gain_bits": float, "minutes": float, "worth": bool},
        ),
        (
            "understood",
            {
                "phrase": str,
                "words": str,
                "as": dict,
                "score": float,
                "probability": float,
                "mark": str,
            },
        ),
        ("not_understood", {"phrase": str, "nearest": list}),
        ("notes", {"about": str, "says": object}),
    ],
)
def test_the_shape_of_the_json(data: Any, key: str, shape: dict[str, type]) -> None:
    assert data[key]
    for entry in data[key]:
        assert entry.keys() == shape.keys()
        for name, kind in shape.items():
            assert isinstance(entry[name], kind), (key, name, entry[name])


def test_the_probabilities_are_unrounded_and_add_up(data: Any) -> None:
    causes = {cause["id"]: cause["probability"] for cause in data["causes"]}
    accounts = [account["probability"] for account in data["accounts"]]
    none = causes["none-of-these"]
    assert sum(causes.values()) == pytest.approx(1, abs=1e-12)
    assert sum(accounts) + none == pytest.approx(1, abs=1e-12)
    assert sum(d["probability"] for d in data["defects"]) + none == pytest.approx(1, abs=1e-12)
    for shares in (list(causes.values()), accounts):
        assert shares == sorted(shares, reverse=True)
        assert any(share != round(share, 6) for share in shares)
    for cause in causes:
        if cause != "none-of-these":
            own = [a["probability"] for a in data["accounts"] if a["path"][0] == cause]
            assert causes[cause] == pytest.approx(sum(own), abs=1e-12)


def test_accounts_run_from_a_cause_to_a_defect(data: Any) -> None:
    causes = {cause["id"] for cause in data["causes"]}
    defects = {defect["id"] for defect in data["defects"]}
    paths = [tuple(account["path"]) for account in data["accounts"]]
    assert len(set(paths)) == len(paths)
    for path in paths:
        assert len(path) >= 2
        assert path[0] in causes
        assert path[-1] in defects


def test_each_part_of_a_phrase_comes_with_what_it_was_taken_for(data: Any) -> None:
    taken = [(one["as"], one["mark"]) for one in data["understood"]]
    assert ({"look": "cavity-wall", "answer": "smooth"}, "sure") in taken
    assert ({"look": "beside-core", "answer": "at-a-core"}, "sure") in taken
    assert {"look": "cavity-depth", "answer": "just-under-skin"} in [meant for meant, _ in taken]
    assert ({"look": "cavity-contents", "answer": "slag"}, "likely") in taken
    assert ({"check": "ladle-skimmed", "answer": "not-skimmed"}, "sure") in taken
    for one in data["understood"]:
        assert one["words"] in one["phrase"]
        assert one["score"] == round(100 * one["probability"], 1)
        assert LIKELY <= one["probability"] < 1
        assert one["mark"] == ("sure" if one["probability"] >= SURE else "likely")


def test_a_phrase_that_means_nothing_is_reported_with_what_is_nearest(data: Any) -> None:
    (missed,) = data["not_understood"]
    assert missed["phrase"] == "like the moon through a wet window"
    assert len(missed["nearest"]) == 5
    assert all(": " in one for one in missed["nearest"])


def test_a_phrase_that_could_mean_two_things_is_reported_and_not_guessed(data: Any) -> None:
    said = [one for one in data["understood"] if one["phrase"] == "sand or slag in the holes"]
    contents = {o["as"]["answer"]: o["mark"] for o in said if o["as"]["look"] == "cavity-contents"}
    assert contents == {"sand": "likely", "slag": "likely"}


def test_what_only_words_say_is_told_as_contradictory() -> None:
    text = "seen: [the wall of the hole is smooth, the wall of the hole is jagged]"
    found = CliRunner().invoke(main, ["reject", "--json", "-"], input=text)
    assert (found.exit_code, found.stderr) == (0, "")
    told = [one for one in json.loads(found.stdout)["warnings"] if "both were said: which?" in one]
    assert len(told) == 1
    found = CliRunner().invoke(main, ["reject", "-"], input=text)
    assert found.exit_code == 0
    assert f"Mind: {told[0]}\n" in found.stdout


def test_an_exact_answer_beside_contrary_words_is_worked() -> None:
    text = "seen: [smooth round holes, {look: cavity-wall, answer: jagged}]"
    found = CliRunner().invoke(main, ["reject", "--json", "-"], input=text)
    assert (found.exit_code, found.stderr) == (0, "")
    heard = [one["as"] for one in json.loads(found.stdout)["understood"]]
    assert {"look": "cavity-wall", "answer": "smooth"} in heard


def test_of_words_that_mean_nothing_no_cause_is_named() -> None:
    text = "seen: [like the moon through a wet window]"
    found = CliRunner().invoke(main, ["reject", "--json", "-"], input=text)
    assert found.exit_code == 0
    data = json.loads(found.stdout)
    assert (data["causes"], data["defects"], data["accounts"]) == ([], [], [])
    assert data["warnings"][0] == NOTHING
    assert [one["phrase"] for one in data["not_understood"]] == [
        "like the moon through a wet window"
    ]
    assert data["ask_next"]
    found = CliRunner().invoke(main, ["reject", "-"], input=text)
    assert found.exit_code == 0
    assert f"Mind: {NOTHING}\n" in found.stdout
    assert "Likely causes" not in found.stdout


def test_a_reading_of_an_unknown_name_is_a_warning() -> None:
    text = "seen: [smooth holes]\nmeasured:\n  zzz of the week: 4 %\n  pour temp: 1310 degC\n"
    found = CliRunner().invoke(main, ["reject", "--json", "-"], input=text)
    assert (found.exit_code, found.stderr) == (0, "")
    data = json.loads(found.stdout)
    (told,) = (one for one in data["warnings"] if "zzz" in one)
    assert told.startswith("standard input:3:3: “zzz of the week” is kept")
    assert told.endswith("no reading is called so in the book.")
    (named,) = (one for one in data["understood"] if "measurement" in one["as"])
    assert named["as"] == {"measurement": "pouring-temperature"}
    assert (named["phrase"], named["words"]) == ("pour temp: 1310 degC", "pour temp")
    assert named["mark"] == "sure"


def test_stability_says_how_often_out_of_how_many(data: Any) -> None:
    assert data["stability"].keys() == {"share", "runs", "runner_up"}
    assert 0 <= data["stability"]["share"] <= 1
    assert data["stability"]["runs"] >= 20


def test_the_questions_are_of_three_kinds_and_open(data: Any) -> None:
    assert {question["kind"] for question in data["ask_next"]} <= {"look", "check", "measurement"}
    answered = {"cavity-wall", "core-vent-open", "sand-moisture", "cavity-contents"}
    assert not answered & {question["id"] for question in data["ask_next"]}


def test_the_notes_say_what_to_do(data: Any) -> None:
    about = {note["about"]: note["says"] for note in data["notes"]}
    assert about["reject"] == "cover-0412"
    assert {"verdict", "contain", "cautions"} <= about.keys()


def test_links_for_outside_checks() -> None:
    found = CliRunner().invoke(main, ["book", "links", "--json"])
    assert found.exit_code == 0
    links = json.loads(found.stdout)
    for link in links:
        assert link.keys() == {"root", "path", "defect", "prior", "sources"}
        assert link["root"].keys() == {"id", "name", "area"}
        assert link["defect"].keys() == {"id", "name"}
        assert link["path"][0] == link["root"]["id"]
        assert link["sources"]
    assert 0.9 < sum(link["prior"] for link in links) < 1


# text, standard input, files


def test_the_text_says_the_ranking_and_the_note(reject: Path) -> None:
    found = CliRunner().invoke(main, ["reject", str(reject)])
    assert found.exit_code == 0
    assert found.stdout.startswith("Heard: “smooth round holes just under the top skin” as ")
    assert re.search(r"^Heard: “.*” as wall of the hole: smooth, as if blown$", found.stdout, re.M)
    assert "Likely causes\n" in found.stdout
    assert "CORRECTIVE-ACTION NOTE: cover-0412" in found.stdout
    assert found.stderr == ""


def test_the_text_says_what_was_likely_and_what_was_not_understood() -> None:
    text = "seen: [sand or slag in the holes, like the moon through a wet window]"
    found = CliRunner().invoke(main, ["reject", "-"], input=text)
    assert found.exit_code == 0
    assert re.search(
        r"^Likely: “.*slag.*” as what is in the hole: slag, glass or dross \(\d\d %\)$",
        found.stdout,
        re.M,
    )
    assert "Not understood: “like the moon through a wet window”. Left out.\n" in found.stdout


@pytest.mark.parametrize("form", [(), ("--json",)])
def test_a_file_and_standard_input_say_the_same(reject: Path, form: tuple[str, ...]) -> None:
    file = CliRunner().invoke(main, ["reject", *form, str(reject)])
    stdin = CliRunner().invoke(main, ["reject", *form, "-"], input=EXAMPLE)
    assert file.stdout == stdin.stdout


def test_the_note_is_written_beside(reject: Path, tmp_path: Path) -> None:
    found = CliRunner().invoke(main, ["reject", str(reject), "--write", str(tmp_path / "notes")])
    assert found.exit_code == 0
    written = sorted(path.name for path in (tmp_path / "notes").iterdir())
    assert written == [f"cover-0412-note.{form}" for form in ("html", "md", "txt")]
    assert all(name in found.stderr for name in written)


def test_the_note_cannot_be_written(reject: Path) -> None:
    found = CliRunner().invoke(main, ["reject", str(reject), "--write", "/dev/null/notes"])
    assert found.exit_code == 1
    assert "The note cannot be kept in /dev/null/notes: Not a directory." in found.stderr


# exit status


@pytest.mark.parametrize(
    ("arguments", "status"),
    [
        (["--version"], 0),
        (["--help"], 0),
        (["reject", "--help"], 0),
        (["reject", str(WORKED)], 0),
        (["reject", "nowhere.yaml"], 1),
        (["reject", str(ROOT)], 1),
        (["--knowledge", "nowhere", "reject", str(WORKED)], 1),
        (["reject", str(WORKED), "--knowledge", "nowhere"], 1),
        (["reject"], 2),
        (["reject", "--jsn", str(WORKED)], 2),
        (["reject", str(WORKED), "another.yaml"], 1),
        ([str(WORKED)], 0),
        ([str(WORKED), "--one-page"], 0),
        (["nowhere.yaml"], 1),
        (["scrap.csv"], 1),
        (["help"], 0),
        (["help", "reject"], 0),
        (["help", "book", "links"], 0),
        (["help", "rejct"], 2),
        (["rejct"], 2),
        (["--plainly"], 2),
    ],
)
def test_the_exit_status(arguments: list[str], status: int) -> None:
    found = CliRunner().invoke(main, arguments)
    assert found.exit_code == status, found.output
    assert "Traceback" not in found.output
    assert bool(found.stderr) == bool(status)


def test_the_version() -> None:
    assert CliRunner().invoke(main, ["--version"]).stdout == f"{__version__}\n"


@pytest.mark.parametrize("bad", BAD, ids=lambda path: path.stem)
def test_a_faulty_file_ends_with_its_faults_and_status_1(bad: Path) -> None:
    found = CliRunner().invoke(main, ["reject", str(bad)])
    assert found.exit_code == 1
    assert found.stdout == ""
    lines = found.stderr.splitlines()
    assert len(lines) == bad.read_text().count("#= ")
    assert all(line.startswith(f"{bad}:") for line in lines)


# the outside world: streams, encodings, folders


def test_faults_of_a_file_in_a_process_of_its_own(tmp_path: Path) -> None:
    done = diagnose("reject", "tests/session/bad_rejects/several-faults-at-once.yaml")
    assert done.returncode == 1
    assert done.stdout == ""
    assert [line.split(":")[:3] for line in done.stderr.splitlines()] == [
        ["tests/session/bad_rejects/several-faults-at-once.yaml", line, column]
        for line, column in (("1", "8"), ("2", "10"), ("4", "5"), ("6", "27"), ("7", "1"))
    ]


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "utf-16", "utf-8"])
def test_a_terminal_that_cannot_show_every_sign(encoding: str, reject: Path) -> None:
    text = reject.read_text().replace("cover-0412  ", "Schieber Ø 7")
    done = subprocess.run(
        [sys.executable, "-m", "diagnose", "reject", "-"],
        input=text.encode(), capture_output=True, cwd=ROOT, check=False,
        env=os.environ | {"PYTHONIOENCODING": encoding, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, b"")
    assert "NOTE: Schieber" in done.stdout.decode(encoding)


def test_json_is_plain_ascii_in_any_encoding(reject: Path) -> None:
    text = EXAMPLE.replace("cover-0412", "Schieber Ø 鋳")
    done = diagnose("reject", "--json", "-", stdin=text, PYTHONIOENCODING="ascii")
    notes = {note["about"]: note["says"] for note in json.loads(done.stdout)["notes"]}
    assert notes["reject"].startswith("Schieber Ø 鋳")


def test_nobody_reads_on(reject: Path) -> None:
    command = f"{sys.executable} -m diagnose reject --json {reject} | head -1; "
    done = subprocess.run(
        ["bash", "-c", command + "echo ${PIPESTATUS[0]}"],
        capture_output=True, text=True, cwd=ROOT, check=False,
    )  # fmt: skip
    assert (done.stdout, done.stderr) == ("{\n0\n", "")


@pytest.mark.parametrize("arguments", [["--version"], ["reject", str(WORKED)], ["book", "links"]])
def test_there_is_no_room_for_what_is_printed(arguments: list[str]) -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "diagnose", *arguments],
            stdout=full, stderr=subprocess.PIPE, text=True, cwd=ROOT, check=False,
        )  # fmt: skip
    assert done.returncode == 1
    assert done.stderr == "This could not be finished: No space left on device.\n"


@pytest.mark.parametrize(
    ("closed", "arguments", "status"),
    [
        ("<&-", "reject -", 1),
        ("<&-", f"reject {WORKED}", 0),
        (">&-", f"reject {WORKED}", 0),
        ("2>&-", "reject nowhere.yaml", 1),
        ("<&- >&- 2>&-", f"reject {WORKED}", 0),
        ("<&-", "", 0),
    ],
)
def test_closed_streams(closed: str, arguments: str, status: int) -> None:
    done = subprocess.run(
        ["bash", "-c", f"{sys.executable} -m diagnose {arguments} {closed}"],
        capture_output=True, text=True, cwd=ROOT, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == status, done.stderr
    assert "Traceback" not in done.stderr


@pytest.fixture
def broken_cache(tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    folder = tmp_path / "cache"
    how: Callable[[Path], None] = request.param
    how(folder)
    return folder


def a_file_in_its_place(folder: Path) -> None:
    folder.write_text("in the way")


def nothing_but_rubbish(folder: Path) -> None:
    fill(folder, lambda content: b"\xff" * 100)


def cut_short(folder: Path) -> None:
    fill(folder, lambda content: content[: len(content) // 2])


def empty_files(folder: Path) -> None:
    fill(folder, lambda content: b"")


def folders_in_its_place(folder: Path) -> None:
    warm(folder)
    for path in folder.iterdir():
        path.unlink()
        path.mkdir()


def fill(folder: Path, damage: Callable[[bytes], bytes]) -> None:
    warm(folder)
    for path in folder.iterdir():
        path.write_bytes(damage(path.read_bytes()))


def warm(folder: Path) -> None:
    assert sound().returncode == 0
    shutil.copytree(os.environ["DIAGNOSE_CACHE"], folder)


def worked_with_a_small_book(**environment: str) -> Done:
    """A book that is quick to read anew, as it has to be where nothing can be kept."""
    small = ["--knowledge", str(SMALL_BOOK), "reject", "--json", "-"]
    return diagnose(*small, stdin="seen:\n  - smooth holes under the skin\n", **environment)


@cache
def sound() -> Done:
    """What is printed where nothing is broken."""
    return worked_with_a_small_book()


@pytest.mark.parametrize(
    "broken_cache",
    [a_file_in_its_place, nothing_but_rubbish, cut_short, empty_files, folders_in_its_place],
    indirect=True,
    ids=lambda how: how.__name__,
)
def test_a_broken_cache_is_done_without(broken_cache: Path) -> None:
    done = worked_with_a_small_book(DIAGNOSE_CACHE=str(broken_cache))
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == sound().stdout
    assert json.loads(done.stdout)["causes"]


def test_a_cache_that_cannot_be_written_is_done_without() -> None:
    done = worked_with_a_small_book(DIAGNOSE_CACHE="/dev/null/cache")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == sound().stdout


def test_a_shelf_that_cannot_be_written_is_said_and_the_answers_are_printed() -> None:
    answers = "\n".join(["cover", "", "", "", "smooth round holes", "", "quit", ""])
    done = diagnose("--plain", stdin=answers, DIAGNOSE_REJECTS="/dev/null")
    assert done.returncode == 1
    assert "could not be saved to /dev/null/" in done.stdout
    assert "smooth round holes" in done.stdout.partition("reads it again:\n")[2]
    assert "Traceback" not in done.stderr


def test_no_argument_and_no_terminal_asks_line_by_line() -> None:
    done = diagnose(stdin="quit\n")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("Why was this casting scrapped?\n")


def test_letters_of_western_europe_are_read_from_a_pipe(tmp_path: Path) -> None:
    """The byte 0xdf is ß in cp1252, and no UTF-8 by itself."""
    typed = "Gußdeckel\n\n\n8 mm\nLunker größer\nquit\n".encode("cp1252")
    done = diagnose(
        "--plain", "--knowledge", str(SMALL_BOOK), stdin=typed, DIAGNOSE_REJECTS=str(tmp_path)
    )
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "gußdeckel.yaml").exists()
    assert "Lunker größer" in (tmp_path / "gußdeckel.yaml").read_text(encoding="utf-8")


def test_letters_of_western_europe_are_heard_from_a_pipe() -> None:
    done = diagnose("hear", "--knowledge", str(SMALL_BOOK), stdin=b"smooth h\xf6les\n")
    assert done.returncode == 0, done.stderr
    assert "höles" in done.stdout


@pytest.mark.parametrize("command", [["reject"], ["sheet"], ["shop", "check"]])
def test_the_name_of_a_file_cannot_steer_the_terminal(command: list[str], tmp_path: Path) -> None:
    odd = tmp_path / "a\x1b[2J\x07.yaml"
    for there in (False, True):
        if there:
            odd.write_text("seen: 7\nwrong: 1\n", encoding="utf-8")
        done = diagnose(*command, str(odd))
        assert done.returncode != 0
        assert "\x1b" not in done.stdout + done.stderr
        assert "\x07" not in done.stdout + done.stderr


def test_what_could_not_be_kept_ends_with_status_1() -> None:
    typed = "cover\n\n\n8 mm\nquit\n"
    arguments = ("--plain", "--knowledge", str(SMALL_BOOK))
    done = diagnose(*arguments, stdin=typed, DIAGNOSE_REJECTS="/dev/null")
    assert done.returncode == 1
    assert "/dev/null is no folder" in done.stdout
    assert "reject: cover" in done.stdout
    assert "section: 8 mm" in done.stdout
