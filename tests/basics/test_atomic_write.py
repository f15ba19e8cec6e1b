"""A file is the old one or the new one, never a part of one."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from diagnose.basics.atomic_write import write_whole


def test_what_is_written_is_there_and_nothing_else(tmp_path: Path) -> None:
    path = tmp_path / "a" / "b" / "note.txt"
    write_whole(path, b"one")
    write_whole(path, b"two", sure=True)
    assert path.read_bytes() == b"two"
    assert [found.name for found in path.parent.iterdir()] == ["note.txt"]


def test_others_may_read_it(tmp_path: Path) -> None:
    """A file made by ``tempfile`` is its owner's alone, which a note is not."""
    path = tmp_path / "note.txt"
    write_whole(path, b"one")
    assert path.stat().st_mode & 0o777 == 0o644


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
