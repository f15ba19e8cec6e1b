from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any
from zlib import crc32

import numpy as np
import pytest

from diagnose.basics.arrayfile import check_shapes, to_bytes
from diagnose.basics.errors import Fault
from diagnose.rulebase import cache, reading
from diagnose.rulebase.cache import cached_arrays, content_key, load_compiled
from diagnose.rulebase.load import load


def refuse(*_: Any, **__: Any) -> Any:
    raise AssertionError("read the files again")


@pytest.fixture
def kept(good: Path, cache_folder: Path) -> Path:
    """The kept form of the small book."""
    load(good)
    (path,) = cache_folder.glob("book-*.json")
    return path


def test_a_second_load_reads_no_yaml(
    good: Path, kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = reading.draft(good).book
    monkeypatch.setattr(reading, "draft", refuse)
    assert load(good) == book


def test_the_shipped_book_comes_back_the_same() -> None:
    first, key = load_compiled()
    again, same_key = load_compiled()
    assert again == first
    assert same_key == key
    assert again.conditions["sand-too-wet"].leads_to == first.conditions["sand-too-wet"].leads_to


def tampered(text: bytes) -> bytes:
    return text.replace(b"The water", b"No water!")


def other_shape(text: bytes) -> bytes:
    body = json.dumps([1, 2]).encode()
    return cache._checksum(body) + b"\n" + body


def another_book(text: bytes) -> bytes:
    """Every list is as long as it should be, and holds what it should not."""
    rest = text.partition(b"\n")[2]
    body = json.dumps([5 if isinstance(one, dict) else one for one in json.loads(rest)]).encode()
    return cache._checksum(body) + b"\n" + body


def too_deep(text: bytes) -> bytes:
    body = b"[" * 200_000
    return cache._checksum(body) + b"\n" + body


@pytest.mark.parametrize(
    "spoil",
    [
        lambda text: b"",
        lambda text: text[: len(text) // 2],
        lambda text: text[:-1],
        lambda text: text.replace(b"\n", b"", 1),
        lambda text: b"\xff" + text,
        lambda text: os.urandom(len(text)),
        tampered,
        other_shape,
        another_book,
        too_deep,
    ],
)
def test_a_spoilt_file_is_made_anew_without_a_word(
    good: Path,
    kept: Path,
    spoil: Callable[[bytes], bytes],
    monkeypatch: pytest.MonkeyPatch,
    capfd: pytest.CaptureFixture[str],
) -> None:
    sound = kept.read_bytes()
    assert spoil(sound) != sound
    kept.write_bytes(spoil(sound))
    assert load(good) == reading.draft(good).book
    assert kept.read_bytes() == sound
    monkeypatch.setattr(reading, "draft", refuse)
    load(good)
    assert capfd.readouterr() == ("", "")


@pytest.mark.parametrize("name", ["sand/seeing.yaml", "scale.yaml"])
def test_a_changed_file_is_seen(good: Path, kept: Path, name: str) -> None:
    _, before = load_compiled(good)
    path = good / name
    stamp = path.stat()
    path.write_text(path.read_text() + "# a word more\n")
    os.utime(path, ns=(stamp.st_atime_ns, stamp.st_mtime_ns))
    _, after = load_compiled(good)
    assert after != before


def test_a_file_renamed_added_or_taken_away_is_seen(good: Path) -> None:
    keys = {load_compiled(good)[1]}
    (good / "sand/conditions.yaml").rename(good / "sand/states.yaml")
    keys.add(load_compiled(good)[1])
    (good / "more.yaml").write_text("glossary: {}\n")
    keys.add(load_compiled(good)[1])
    assert len(keys) == 3


def test_where_the_folder_lies_does_not_matter(good: Path, kept: Path, tmp_path: Path) -> None:
    _, key = load_compiled(good)
    good.rename(tmp_path / "moved")
    assert load_compiled(tmp_path / "moved")[1] == key


def test_no_two_contents_share_a_key() -> None:
    """Names and contents must not run into each other in the hash."""
    keys = [
        content_key([("a", b"b")]),
        content_key([("ab", b"")]),
        content_key([("a", b""), ("b", b"")]),
        content_key([("a", b"\n1 b 0 ")]),
        content_key([]),
    ]
    assert len(set(keys)) == len(keys)


def test_the_state_of_the_program_tells_its_modules() -> None:
    state = cache.program_state()
    for module in (
        "reasoning/setup.py",
        "engine/needs.py",
        "rulebase/book.py",
        "rulebase/checks/run.py",
    ):
        assert f"{module} " in state


def test_a_book_kept_by_another_program_is_not_taken(
    good: Path, kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cache, "program_state", lambda: "desk.py 1 2")
    load(good)
    assert len(list(kept.parent.glob("book-*.json"))) == 2


def test_a_faulty_book_is_never_kept(good: Path, cache_folder: Path) -> None:
    (good / "more.yaml").write_text("conditions: {x: 1}\n")
    for _ in range(2):
        with pytest.raises(Fault):
            load(good)
    assert not list(cache_folder.glob("*"))


def test_a_cache_that_is_no_folder_is_done_without(good: Path, cache_folder: Path) -> None:
    cache_folder.write_text("in the way")
    assert load(good) == load(good)
    assert cache_folder.read_text() == "in the way"


@pytest.mark.parametrize("step", ["mkdir", "open", "fdopen", "replace"])
def test_a_full_or_locked_disk_is_done_without(
    good: Path, cache_folder: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    def full(*_: Any, **__: Any) -> Any:
        raise OSError(28, "No space left on device")

    owner: Any = {"mkdir": Path, "replace": Path}.get(step, os)
    monkeypatch.setattr(owner, step, full)
    assert load(good).defects
    assert not cache_folder.exists() or not list(cache_folder.iterdir())


def test_only_a_few_old_files_are_kept(good: Path, cache_folder: Path) -> None:
    for number in range(cache.KEPT + 3):
        (good / "more.yaml").write_text(f"# {number}\nglossary: {{}}\n")
        load(good)
    assert len(list(cache_folder.glob("book-*.json"))) == cache.KEPT


def kept_array(key: str, name: str, build: Callable[[], Any]) -> list[float]:
    """Keep an array called "a" with a row for each of two columns, and return it as lists."""

    def make(arrays: Any) -> list[float]:
        check_shapes(arrays, {"a": "f rows", "b": "i rows"})
        return arrays["a"].tolist()

    return cached_arrays(key, name, build, make)


def pair(*numbers: float) -> dict[str, Any]:
    return {"a": np.array(numbers, float), "b": np.arange(len(numbers))}


def test_what_was_built_is_kept_under_the_key(cache_folder: Path) -> None:
    assert kept_array("k", "order", lambda: pair(3, 1, 0.1)) == [3, 1, 0.1]
    assert kept_array("k", "order", refuse) == [3, 1, 0.1]
    assert kept_array("k2", "order", lambda: pair(2)) == [2]
    assert kept_array("k", "other", lambda: pair()) == []
    assert kept_array("k", "other", refuse) == []


@pytest.mark.parametrize("spoilt", ["flipped", "short", "empty", "longer"])
def test_what_is_kept_for_the_engine_survives_damage(cache_folder: Path, spoilt: str) -> None:
    kept_array("k", "order", lambda: pair(1, 2))
    (path,) = cache_folder.iterdir()
    was = path.read_bytes()
    flipped = was[:-1] + bytes([was[-1] ^ 1])
    spoiling = {"flipped": flipped, "short": was[:-9], "empty": b"", "longer": was + b"x"}
    path.write_bytes(spoiling[spoilt])
    assert kept_array("k", "order", lambda: pair(3, 4)) == [3, 4]
    assert kept_array("k", "order", refuse) == [3, 4]


def test_a_warm_start_imports_nothing_heavy(good: Path, kept: Path) -> None:
    code = (
        "import sys; from diagnose.rulebase.load import load; load(sys.argv[1]);"
        "heavy = {'pydantic', 'yaml', 'networkx', 'rapidfuzz', 'numpy', 'textual'};"
        "sys.exit(', '.join(heavy & set(sys.modules)) or None)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(good)],
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(__file__).parents[2],
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


@pytest.mark.parametrize("folder", ["shop", "drawing", "words", "engine"])
def test_the_key_hangs_on_every_room_that_makes_what_is_kept(folder: str) -> None:
    """A sum or a drawing that was renamed must not be met by a book that was checked before."""
    assert folder in cache.WORKED_OUT_BY
    state = cache.program_state()
    modules = [path.name for path in (cache.PROGRAM / folder).glob("*.py")]
    assert modules
    assert all(f"{folder}/{name}" in state for name in modules)


@pytest.mark.parametrize(
    "wrong",
    [
        {},
        {"a": np.zeros(2)},
        {"a": np.zeros(2), "b": np.zeros(2)},
        {"a": np.zeros((2, 2)), "b": np.arange(2)},
        {"a": np.zeros(2), "b": np.arange(3)},
    ],
    ids=["nothing", "one missing", "another kind", "more axes", "another length"],
)
def test_what_was_kept_in_another_shape_is_built_anew(
    cache_folder: Path, wrong: dict[str, Any]
) -> None:
    """The checksum is good, and the shape is not."""
    cached_arrays("key", "desk", lambda: wrong, dict)
    assert kept_array("key", "desk", lambda: pair(2, 1)) == [2, 1]
    assert kept_array("key", "desk", refuse) == [2, 1]


def test_nothing_that_could_be_executed_is_kept_or_read(cache_folder: Path) -> None:
    objects = {"a": np.array([print], dtype=object)}
    with pytest.raises(ValueError, match="pickle"):
        cached_arrays("k", "order", lambda: objects, dict)
    file = BytesIO()
    np.save(file, np.frombuffer(b'["a"]'.ljust(64), np.uint8))
    np.save(file, objects["a"], allow_pickle=True)
    content = file.getvalue()
    line = f"arrays {crc32(content):08x}".encode().ljust(63) + b"\n"
    cache_folder.mkdir(exist_ok=True)
    (cache_folder / "order-k.npy").write_bytes(line + content)
    assert kept_array("k", "order", lambda: pair(1)) == [1]


def test_a_desk_and_a_reader_survive_files_of_a_wrong_shape(
    cache_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each file with a good checksum; before, both ended in a traceback."""
    from diagnose.rulebase.job import Job
    from diagnose.session.library import Library

    book, _ = load_compiled()
    key = "0" * 40
    first = Library(book, key)
    roots = first.desk(Job("grey iron")).roots
    first.reader.hear(["a hole"])
    files = sorted(cache_folder.glob(f"*-{key}.npy"))
    assert {path.name.split("-")[0] for path in files} == {"desk", "sayings"}
    for path in files:
        path.write_bytes(to_bytes({"other": np.arange(3)}))
    again = Library(book, key)
    assert again.desk(Job("grey iron")).roots == roots
    assert again.reader.hear(["a hole"]) == first.reader.hear(["a hole"])
