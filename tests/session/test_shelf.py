"""Nothing entered is lost: not by a full disk, a kill, an odd name or a broken folder."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.basics.errors import Fault
from diagnose.session.rejectfile import dump, read_reject, save
from diagnose.session.session import Session
from diagnose.session.shelf import Shelf, shelf

ODD_NAMES = [
    "",
    ".",
    "..",
    "../../etc/passwd",
    "/",
    "cover 04/12",
    "C:\\cover",
    "cover.yaml",
    ".hidden",
    "-rf",
    "Deckel für Schieber №7",
    "鋳物の蓋",
    "x" * 300,
    "ß" * 300,
    "蓋" * 300,
    "'; drop table",
    "a\nb\tc",
]


def keep(shelf: Shelf, session: Session) -> Path:
    """Save a reject under its name."""
    path = shelf.path_for(session.reject.name)
    save(session, path)
    return path


@pytest.fixture
def kept(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "rejects")


def test_the_shelf_is_where_the_environment_says(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("DIAGNOSE_REJECTS", str(tmp_path / "mine"))
    assert shelf().folder == tmp_path / "mine"


def test_else_it_is_in_the_data_folder_of_the_user(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("DIAGNOSE_REJECTS")
    monkeypatch.setenv("HOME", str(tmp_path))
    assert shelf().folder.name == "rejects"
    assert "diagnose" in shelf().folder.parts


@pytest.mark.parametrize("name", ODD_NAMES)
def test_an_odd_name_is_kept_in_the_folder_and_nowhere_else(
    kept: Shelf, session: Session, name: str
) -> None:
    path = kept.path_for(name)
    assert path.parent == kept.folder
    path.parent.mkdir()
    path.write_text("reject: x\n")
    assert [found.path for found in kept.kept()] == [path]
    assert not path.name.startswith((".", "-"))


@given(st.text())
def test_any_name_has_a_file_that_every_file_system_takes(name: str) -> None:
    path = Shelf(Path("kept")).path_for(name)
    assert path.parent == Path("kept")
    assert path.stem
    assert len(os.fsencode(path.name)) <= 210
    assert Shelf(Path("kept")).path_for(path.stem) == path


def test_a_name_too_long_for_a_screen_is_refused_and_nothing_changes(session: Session) -> None:
    session.about(name="x" * 100)
    with pytest.raises(Fault, match=r"has 101 characters. Give the reject one of at most 100."):
        session.about(name="y" * 101)
    assert session.reject.name == "x" * 100


def test_a_name_is_one_line_that_cannot_steer_the_screen(session: Session) -> None:
    session.about(name=" cover\n\x1b[2J\u202e7\ud800 ")
    assert session.reject.name == "cover [2J 7"


def test_the_last_written_comes_first(kept: Shelf, session: Session) -> None:
    for name, when in (("first", 100.0), ("third", 300.0), ("second", 200.0)):
        session.about(name=name)
        os.utime(keep(kept, session), (when, when))
    assert [found.name for found in kept.kept()] == ["third", "second", "first"]
    kept.discard(kept.path_for("third"))
    kept.discard(kept.path_for("third"))
    assert [found.name for found in kept.kept()] == ["second", "first"]


def test_what_is_no_reject_file_is_passed_over(kept: Shelf, session: Session) -> None:
    session.about(name="cover")
    path = keep(kept, session)
    (kept.folder / "folder.yaml").mkdir()
    (kept.folder / "gone.yaml").symlink_to(kept.folder / "nowhere")
    (kept.folder / "notes.txt").write_text("x")
    assert [found.path for found in kept.kept()] == [path]


def test_a_folder_that_is_not_there_is_empty(kept: Shelf, tmp_path: Path) -> None:
    assert kept.kept() == []
    (tmp_path / "file").write_text("")
    assert Shelf(tmp_path / "file").kept() == []


def test_a_free_name_has_no_file_yet(kept: Shelf, session: Session) -> None:
    first = kept.free_name()
    session.about(name=first)
    keep(kept, session)
    assert kept.free_name() != first
    assert not kept.path_for(kept.free_name()).exists()


def test_what_is_kept_reads_back(
    kept: Shelf, session: Session, start: Callable[..., Session]
) -> None:
    session.about(name="cover", section="8 mm")
    session.answer("cavity-wall", "smooth")
    again = start()
    read_reject(keep(kept, session), again)
    assert again.reject == session.reject


def no_room(*_args: object, **_named: object) -> None:
    raise OSError(28, "No space left on device")


@pytest.mark.parametrize("where", ["os.fsync", "os.fdopen", "os.open", "pathlib.Path.replace"])
def test_a_full_disk_leaves_the_old_file_and_the_session(
    kept: Shelf, session: Session, monkeypatch: pytest.MonkeyPatch, where: str
) -> None:
    session.about(name="cover")
    session.answer("cavity-wall", "smooth")
    path = keep(kept, session)
    before = path.read_bytes()
    session.answer("cavity-size", "under-3mm")
    known = session.reject
    with monkeypatch.context() as patched:
        patched.setattr(where, no_room)
        with pytest.raises(Fault) as fault:
            keep(kept, session)
    assert str(path) in str(fault.value)
    assert "No space left on device. Nothing is lost while the program runs" in str(fault.value)
    assert path.read_bytes() == before
    assert os.listdir(kept.folder) == ["cover.yaml"]
    assert session.reject == known
    keep(kept, session)
    assert b"under-3mm" in path.read_bytes()


def test_a_limit_of_the_system_on_the_size_of_files_counts_as_a_full_disk(tmp_path: Path) -> None:
    """The real thing: the kernel takes 20 bytes and no more."""
    script = """
import resource, sys
from pathlib import Path
from diagnose.basics.errors import Fault
from diagnose.session.rejectfile import save
from diagnose.session.session import open_session
from diagnose.session.shelf import Shelf
session = open_session()
session.about(name="cover")
resource.setrlimit(resource.RLIMIT_FSIZE, (20, 20))
try:
    save(session, Shelf(Path(sys.argv[1])).path_for("cover"))
except Fault as fault:
    print(fault)
"""
    done = run(script, str(tmp_path))
    assert "could not be saved" in done.stdout
    assert os.listdir(tmp_path) == []


@pytest.mark.parametrize(
    ("inside", "why"),
    [("/dev/null", "/dev/null is no folder."), ("/dev/null/rejects", "Not a directory.")],
)
def test_a_folder_that_cannot_be_made_is_named(session: Session, inside: str, why: str) -> None:
    session.about(name="cover")
    session.answer("cavity-wall", "smooth")
    with pytest.raises(Fault, match=f"could not be saved to {inside}/cover.yaml: {why}"):
        keep(Shelf(Path(inside)), session)
    assert session.reject.about("cavity-wall")


def test_what_cannot_be_taken_away_is_named(kept: Shelf) -> None:
    (kept.folder / "cover.yaml").mkdir(parents=True)
    with pytest.raises(Fault, match=r"cover.yaml could not be taken away"):
        kept.discard(kept.folder / "cover.yaml")


KILLED = """
import os, signal, sys
from pathlib import Path
from diagnose.session.session import open_session
from diagnose.session.rejectfile import read_reject, save

def die(*_, **__):
    os.kill(os.getpid(), signal.SIGKILL)

path, moment = Path(sys.argv[1]), sys.argv[2]
session = open_session()
read_reject(path, session)
session.answer("cavity-size", "under-3mm")
really = Path.replace
if moment == "before anything is written":
    os.fdopen = die
elif moment == "before it is on the disk":
    os.fsync = die
elif moment == "before it has its name":
    Path.replace = die
else:
    Path.replace = lambda draft, to: (really(draft, to), die())
save(session, path)
"""


@pytest.mark.parametrize(
    ("moment", "new"),
    [
        ("before anything is written", False),
        ("before it is on the disk", False),
        ("before it has its name", False),
        ("just after", True),
    ],
)
def test_a_kill_leaves_the_old_file_or_the_new_one_whole(
    kept: Shelf, session: Session, start: Callable[..., Session], moment: str, new: bool
) -> None:
    session.about(name="cover")
    session.answer("cavity-wall", "smooth")
    path = keep(kept, session)
    old = path.read_text()
    done = run(KILLED, str(path), moment, status=-signal.SIGKILL)
    assert done.returncode == -signal.SIGKILL
    if new:
        session.answer("cavity-size", "under-3mm")
        assert path.read_text() == dump(session.reject, str)
    else:
        assert path.read_text() == old
    again = start()
    read_reject(path, again)
    assert [found.name for found in kept.kept()] == ["cover"]


def run(script: str, *arguments: str, status: int = 0) -> subprocess.CompletedProcess[str]:
    done = subprocess.run(
        [sys.executable, "-c", script, *arguments], capture_output=True, text=True, check=False
    )
    assert done.returncode == status, done.stderr
    return done


@pytest.mark.parametrize("when", [1e15, 1e300, 253402300800.0, -1e15])
def test_a_time_that_no_calendar_has_keeps_nobody_from_work(
    kept: Shelf, session: Session, monkeypatch: pytest.MonkeyPatch, when: float
) -> None:
    """Not every file system takes such a time, so it is put into what the system says of it."""
    session.about(name="cover")
    path = keep(kept, session)
    told = SimpleNamespace(st_mtime=when, st_mode=os.stat(path).st_mode)
    really = Path.stat

    def stat(path: Path, **named: bool) -> Any:
        return told if path.suffix else really(path, **named)

    monkeypatch.setattr(Path, "stat", stat)
    (one,) = kept.kept()
    assert one.name == "cover"
    assert f"{one.changed:%d %b %Y, %H:%M}"
