"""The file of a reject: claimed by one, never written over unseen, named as it was opened."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from diagnose.reject.reject import Reject
from diagnose.session import onfile
from diagnose.session.autosave import Bench, new_bench, resumed_bench
from diagnose.session.onfile import JOINED, TAKEN_AWAY, OnFile
from diagnose.session.rejectfile import LIMIT, read_reject, save
from diagnose.session.session import Session, open_session
from diagnose.session.shelf import Shelf

SMALL_BOOK = Path(__file__).parents[1] / "terminal" / "screens" / "small-book"


@pytest.fixture
def session() -> Session:
    return open_session(folder=SMALL_BOOK)


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "rejects")


def kept(session: Session, path: Path) -> Reject:
    again = session.another()
    read_reject(path, again, begun=True)
    return again.reject


def say(bench: Bench, look: str, answer: str) -> None:
    assert bench.change(lambda: bench.session.answer(look, answer)) == ""


def named(session: Session, name: str) -> Session:
    return session.another(replace(session.fresh, name=name))


def test_two_rejects_begun_at_once_get_two_names(session: Session, shelf: Shelf) -> None:
    one, two = new_bench(session, shelf), new_bench(session, shelf)
    assert one.session.reject.name == two.session.reject.name
    say(one, "cavity-wall", "smooth")
    say(two, "cavity-wall", "rough")
    assert one.file.path != two.file.path
    assert one.session.reject.name != two.session.reject.name
    assert f"this reject is now {two.session.reject.name}" in two.take_news()
    for bench, answer in ((one, "smooth"), (two, "rough")):
        assert bench.file.path is not None
        reject = kept(session, bench.file.path)
        assert (reject.name, reject.found[0].answer) == (  # type: ignore[union-attr]
            bench.session.reject.name, answer,
        )  # fmt: skip


RACE = """
import sys
from pathlib import Path
from diagnose.session.autosave import new_bench
from diagnose.session.session import open_session
from diagnose.session.shelf import Shelf
session = open_session(folder=sys.argv[1])
benches = [new_bench(session, Shelf(Path(sys.argv[2]))) for _ in range(5)]
sys.stdout.write("ready\\n"); sys.stdout.flush(); sys.stdin.readline()
for bench in benches:
    bench.change(lambda: bench.session.see(sys.argv[3] + str(benches.index(bench))))
    assert not bench.trouble, bench.trouble
"""


def test_many_rejects_begun_at_once_by_several_people(session: Session, shelf: Shelf) -> None:
    people = [
        subprocess.Popen(
            [sys.executable, "-c", RACE, str(SMALL_BOOK), str(shelf.folder), f"person {number} "],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        )
        for number in range(3)
    ]  # fmt: skip
    for one in people:
        assert one.stdout is not None
        assert one.stdout.readline() == "ready\n"
    for one in people:
        assert one.stdin is not None
        one.stdin.write("go\n")
        one.stdin.flush()
    for one in people:
        one.communicate(timeout=60)
        assert one.returncode == 0
    rejects = [kept(session, one.path) for one in shelf.kept()]
    assert len(rejects) == len({reject.name for reject in rejects}) == 15
    assert len({reject.not_understood for reject in rejects}) == 15


def test_one_reject_in_two_windows_holds_what_both_entered(session: Session, shelf: Shelf) -> None:
    one = new_bench(named(session, "cover"), shelf)
    say(one, "cavity-wall", "smooth")
    path = shelf.path_for("cover")
    two = resumed_bench(session, shelf, path)
    two.change(lambda: two.session.measure("moisture", "4.6 %"))
    say(one, "beside-core", "at-a-core")
    assert one.take_news() == JOINED
    assert {found.id for found in kept(session, path).found} == {
        "cavity-wall", "beside-core", two.session.reject.found[-1].id,
    }  # fmt: skip
    one.change(one.session.undo)
    assert {found.id for found in kept(session, path).found} == {
        "cavity-wall", two.session.reject.found[-1].id,
    }  # fmt: skip
    say(two, "beside-core", "at-a-core")
    assert [one.name for one in shelf.kept()] == ["cover"]


def test_two_windows_that_say_otherwise_are_kept_beside_each_other(
    session: Session, shelf: Shelf
) -> None:
    one = new_bench(named(session, "cover"), shelf)
    say(one, "beside-core", "at-a-core")
    two = resumed_bench(session, shelf, shelf.path_for("cover"))
    say(two, "cavity-wall", "rough")
    say(one, "cavity-wall", "smooth")
    told = one.take_news()
    assert "cavity-wall" in told
    assert "this reject is now cover 2" in told
    assert kept(session, shelf.path_for("cover")) == two.session.reject
    assert kept(session, shelf.path_for("cover 2")) == one.session.reject
    say(two, "beside-core", "away-from-core")
    assert two.take_news() == ""


def test_a_file_that_was_spoilt_meanwhile_is_left_and_kept_beside(
    session: Session, shelf: Shelf
) -> None:
    bench = new_bench(named(session, "cover"), shelf)
    say(bench, "cavity-wall", "smooth")
    shelf.path_for("cover").write_text("seen: {", encoding="utf-8")
    say(bench, "beside-core", "at-a-core")
    assert "cannot be read" in bench.take_news()
    assert shelf.path_for("cover").read_text(encoding="utf-8") == "seen: {"
    assert len(kept(session, shelf.path_for("cover 2")).found) == 2


def test_a_file_that_was_taken_away_is_made_again(session: Session, shelf: Shelf) -> None:
    bench = new_bench(named(session, "cover"), shelf)
    say(bench, "cavity-wall", "smooth")
    shelf.path_for("cover").unlink()
    bench.change(bench.session.undo)
    assert bench.take_news() == TAKEN_AWAY
    assert kept(session, shelf.path_for("cover")).found == ()


def test_a_copied_file_is_gone_on_with_where_it_is(session: Session, shelf: Shelf) -> None:
    first = new_bench(named(session, "cover"), shelf)
    say(first, "cavity-wall", "smooth")
    original = shelf.path_for("cover")
    copy = shelf.folder / "copy of cover.yaml"
    copy.write_bytes(original.read_bytes())
    bench = resumed_bench(session, shelf, copy)
    say(bench, "cavity-wall", "rough")
    assert kept(session, original) == first.session.reject
    assert kept(session, copy) == bench.session.reject


def test_a_link_is_followed_and_stays(session: Session, shelf: Shelf, tmp_path: Path) -> None:
    far = tmp_path / "far.yaml"
    save(named(session, "cover"), far)
    shelf.folder.mkdir()
    link = shelf.path_for("cover")
    link.symlink_to(far)
    bench = resumed_bench(session, shelf, link)
    say(bench, "cavity-wall", "smooth")
    assert link.is_symlink()
    assert kept(session, far) == bench.session.reject


def test_undo_of_a_rename_leaves_one_file(session: Session, shelf: Shelf) -> None:
    bench = new_bench(named(session, "cover"), shelf)
    say(bench, "cavity-wall", "smooth")
    bench.rename("lid")
    bench.change(bench.session.undo)
    assert [one.name for one in shelf.kept()] == ["cover"]
    bench.change(bench.session.redo)
    assert [one.name for one in shelf.kept()] == ["lid"]


def test_what_no_longer_fits_is_refused_and_the_rest_stays(session: Session, shelf: Shelf) -> None:
    bench = new_bench(named(session, "cover"), shelf)
    say(bench, "cavity-wall", "smooth")
    before = bench.session.reject
    wrong = bench.change(lambda: bench.session.keep_phrases(["x" * LIMIT]))
    assert "no longer fits" in wrong
    assert bench.session.reject == before
    assert bench.session.undo()
    assert bench.session.reject.found == ()
    assert kept(session, shelf.path_for("cover")) == before


def test_what_an_older_program_kept_is_read_however_long(session: Session, shelf: Shelf) -> None:
    long = named(session, "cover")
    long.keep_phrases(f"{'x' * 1000} {number}" for number in range(120))
    save(long, shelf.path_for("cover"))
    assert shelf.path_for("cover").stat().st_size > LIMIT
    bench = resumed_bench(session, shelf, shelf.path_for("cover"))
    assert bench.session.reject == long.reject
    assert bench.change(lambda: bench.session.forget_phrase(f"{'x' * 1000} 7")) == ""
    assert not bench.trouble


def test_a_session_that_hangs_keeps_nobody_waiting(
    session: Session, shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is written past the lock; it is told, and tried again at the next change."""
    monkeypatch.setattr(onfile, "PATIENCE", 0.05)
    bench = new_bench(named(session, "cover"), shelf)
    with onfile._alone(shelf.folder):
        say(bench, "cavity-wall", "smooth")
        assert "does not let go" in bench.trouble
    bench.save()
    assert bench.trouble == ""
    assert bench.is_kept()


def test_where_it_is_kept_is_looked_at(session: Session, shelf: Shelf) -> None:
    bench = new_bench(named(session, "cover"), shelf)
    assert not bench.is_kept()
    say(bench, "cavity-wall", "smooth")
    assert bench.is_kept()
    shelf.path_for("cover").unlink()
    assert bench.is_kept()
    assert shelf.path_for("cover").exists()


def test_what_the_disk_does_not_keep_can_be_kept_by_hand(session: Session, tmp_path: Path) -> None:
    bench = new_bench(named(session, "cover"), Shelf(Path("/dev/null")))
    say(bench, "cavity-wall", "smooth")
    assert not bench.is_kept()
    (tmp_path / "by-hand.yaml").write_text(bench.by_hand(), encoding="utf-8")
    assert kept(session, tmp_path / "by-hand.yaml") == bench.session.reject


def test_drafts_of_a_killed_session_are_swept_up(session: Session, shelf: Shelf) -> None:
    shelf.folder.mkdir()
    left = shelf.folder / ".cover-0a1b.draft"
    left.write_bytes(b"x")
    os.utime(left, (1000.0, 1000.0))
    assert OnFile(shelf).keep(named(session, "cover")) == ""
    assert not left.exists()
