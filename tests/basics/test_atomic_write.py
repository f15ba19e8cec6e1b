"""A file is the old one or the new one, never a part of one."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from diagnose.basics.atomic_write import sweep, write_whole


def test_what_is_written_is_there_and_nothing_else(tmp_path: Path) -> None:
    path = tmp_path / "a" / "b" / "note.txt"
    write_whole(path, b"one")
    write_whole(path, b"two", sure=True)
    assert path.read_bytes() == b"two"
    assert [found.name for found in path.parent.iterdir()] == ["note.txt"]


@pytest.mark.parametrize("broken", ["replace", "fsync"])
def test_the_old_file_stays_where_the_new_one_cannot_be_put(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, broken: str
) -> None:
    path = tmp_path / "note.txt"
    path.write_bytes(b"old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(*((Path, "replace") if broken == "replace" else (os, "fsync")), full)
    with pytest.raises(OSError, match="No space left"):
        write_whole(path, b"new", sure=True)
    assert path.read_bytes() == b"old"
    assert [found.name for found in tmp_path.iterdir()] == ["note.txt"]


def test_a_break_in_the_middle_leaves_nothing_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "replace", stop)
    with pytest.raises(KeyboardInterrupt):
        write_whole(tmp_path / "note.txt", b"new")
    assert list(tmp_path.iterdir()) == []


def test_a_file_in_the_way_of_a_folder_is_an_error(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"x")
    with pytest.raises(OSError, match=r"exists|directory"):
        write_whole(tmp_path / "file" / "note.txt", b"new")


@pytest.mark.parametrize(("mask", "mode"), [(0o077, 0o600), (0o027, 0o640), (0o022, 0o644)])
def test_a_new_file_is_as_open_as_the_person_wants_files_to_be(
    tmp_path: Path, mask: int, mode: int
) -> None:
    """POSIX: what ``umask`` takes away, no new file has."""
    before = os.umask(mask)
    try:
        write_whole(tmp_path / "note.txt", b"one")
    finally:
        os.umask(before)
    assert (tmp_path / "note.txt").stat().st_mode & 0o777 == mode


def test_a_file_stays_as_open_as_it_was_made(tmp_path: Path) -> None:
    path = tmp_path / "note.txt"
    path.write_bytes(b"one")
    path.chmod(0o660)
    write_whole(path, b"two")
    assert path.stat().st_mode & 0o777 == 0o660


@pytest.mark.parametrize("there", [True, False])
def test_a_link_is_followed_and_stays_a_link(tmp_path: Path, there: bool) -> None:
    (tmp_path / "far").mkdir()
    far, link = tmp_path / "far" / "note.txt", tmp_path / "note.txt"
    if there:
        far.write_bytes(b"one")
    link.symlink_to(far)
    write_whole(link, b"two")
    assert link.is_symlink()
    assert far.read_bytes() == b"two"
    assert [found.name for found in far.parent.iterdir()] == ["note.txt"]


def test_a_link_that_leads_back_to_itself_is_an_error(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    with pytest.raises(OSError, match=r"[Ss]ymlink|symbolic"):
        write_whole(tmp_path / "a", b"x")


def test_the_name_is_on_the_disk_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """POSIX: a name is sure only once its folder has been written out as well."""
    written: list[bool] = []
    really = os.fsync

    def fsync(handle: int) -> None:
        written.append(stat.S_ISDIR(os.fstat(handle).st_mode))
        really(handle)

    monkeypatch.setattr(os, "fsync", fsync)
    write_whole(tmp_path / "note.txt", b"one", sure=True)
    assert written == [False, True]


def test_a_file_is_claimed_once(tmp_path: Path) -> None:
    path = tmp_path / "note.txt"
    write_whole(path, b"one", new=True)
    with pytest.raises(FileExistsError):
        write_whole(path, b"two", new=True)
    assert path.read_bytes() == b"one"
    assert [found.name for found in tmp_path.iterdir()] == ["note.txt"]


def test_a_file_is_claimed_once_where_files_have_one_name_only(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Some file systems have no hard links."""

    def no_links(*_: object) -> None:
        raise OSError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    test_a_file_is_claimed_once(tmp_path)


def test_drafts_that_a_kill_left_behind_are_swept_up(tmp_path: Path) -> None:
    old, new, other = (tmp_path / name for name in (".a-1f.draft", ".b-2f.draft", ".c.yaml"))
    for path in (old, new, other):
        path.write_bytes(b"x")
    os.utime(old, (1000.0, 1000.0))
    os.utime(other, (1000.0, 1000.0))
    sweep(tmp_path)
    assert sorted(tmp_path.iterdir()) == [new, other]
    sweep(tmp_path / "nowhere")
