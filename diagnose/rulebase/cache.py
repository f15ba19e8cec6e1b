"""Keep the read and checked rule base between runs, so that nobody waits for YAML.

A kept file is a line ``<checksum>`` and a text in JSON, or arrays in numpy's own
format; nothing in it is ever executed. Its name holds the key: a hash of the rule files and of the
state of the program. A file that is missing, cut short, altered or of another shape is made anew
without a word, and a folder that cannot be written to is done without.
"""

from __future__ import annotations

import gc
import json
import os
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from functools import cache
from hashlib import blake2b
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar
from zlib import crc32

from diagnose.basics.errors import Fault
from diagnose.rulebase.book import Book
from diagnose.rulebase.folder import knowledge_folder, rule_files
from diagnose.rulebase.pack import pack, unpack

if TYPE_CHECKING:
    from diagnose.basics.arrayfile import Array

Made = TypeVar("Made")

PROGRAM = Path(__file__).resolve().parent.parent
WORKED_OUT_BY = (
    "basics", "drawing", "engine", "reasoning", "reject", "rulebase", "rulebase/checks", "shop",
    "words",
)  # fmt: skip
"""Folders of the program whose modules make what is kept."""

KEPT = 6
"""Files of one name that are kept; older ones are deleted."""


def load_compiled(folder: Path | str | None = None) -> tuple[Book, str]:
    """Return the book of a folder and its key, from the cache where nothing has changed.

    Raises Fault with everything that keeps the book from being worked with.
    """
    where = knowledge_folder(folder)
    files = rule_files(where)
    key = content_key((path.relative_to(where).as_posix(), _bytes(path)) for path in files)
    kept = _read(key, "book")
    if kept is not None:
        with suppress(ValueError, TypeError, LookupError, AttributeError):
            return _unpack_book(kept), key
    book = _checked(where)
    _write(key, "book", pack(book))
    return book, key


def cached_arrays(
    key: str,
    name: str,
    build: Callable[[], Mapping[str, Array]],
    make: Callable[[Mapping[str, Array]], Made],
) -> Made:
    """Return what ``make`` makes of the arrays kept under a name, or of those it builds and keeps.

    ``make`` raises ValueError, TypeError or LookupError where the arrays are of another shape; they
    are built anew then. Kept arrays are read-only, and stay on the disk until they are used.
    """
    from diagnose.basics.arrayfile import kept_arrays, to_bytes

    file = f"{name}-{key}.npy"
    with suppress(OSError, ValueError, TypeError, LookupError):
        return make(kept_arrays(cache_folder() / file))
    arrays = build()
    _put(file, name, to_bytes(arrays))
    return make(arrays)


def content_key(files: Iterable[tuple[str, bytes]]) -> str:
    """Return the hash of named contents, in their order, and of the state of the program.

    >>> len(content_key([("scale.yaml", b"scale:")]))
    40
    """
    digest = blake2b(program_state().encode(), digest_size=20)
    for name, content in files:
        digest.update(f"\n{len(name)} {name} {len(content)} ".encode("utf-8", "surrogateescape"))
        digest.update(content)
    return digest.hexdigest()


@cache
def program_state() -> str:
    """Return the size and time of every module that makes what is kept.

    Another version of one may check or work out something else, so what was kept before is stale.
    """
    modules = (
        (f"{folder}/{entry.name}", entry.stat())
        for folder in WORKED_OUT_BY
        for entry in os.scandir(PROGRAM / folder)
        if entry.name.endswith(".py")
    )
    return " ".join(sorted(f"{name} {stat.st_size} {stat.st_mtime_ns}" for name, stat in modules))


def cache_folder() -> Path:
    """Return where files are kept: DIAGNOSE_CACHE, or the user's own cache folder."""
    if chosen := os.environ.get("DIAGNOSE_CACHE"):
        return Path(chosen)
    from platformdirs import user_cache_dir

    return Path(user_cache_dir("diagnose"))


def _bytes(path: Path) -> bytes:
    """Return a file's content; one that cannot be read is reported by the reader, not here."""
    try:
        return path.read_bytes()
    except OSError:
        return b""


def _checked(folder: Path) -> Book:
    from diagnose.rulebase.checks.run import MUST_HOLD, run
    from diagnose.rulebase.reading import draft

    made = draft(folder)
    if problems := run(made, MUST_HOLD):
        raise Fault(*problems)
    return made.book


def _unpack_book(kept: Any) -> Book:
    # Thousands of small objects that all stay: looking for garbage among them is wasted time.
    was_on = gc.isenabled()
    gc.disable()
    try:
        book: Book = unpack(Book, kept)
    finally:
        if was_on:
            gc.enable()
    return book


def _checksum(text: bytes) -> bytes:
    """Return a checksum against damage; it is no guard against malice."""
    return f"{crc32(text):08x}".encode()


def _read(key: str, name: str) -> Any:
    """Return what is kept, or None where it is missing or not as it was written."""
    with suppress(OSError, ValueError, RecursionError):
        first, text = (cache_folder() / f"{name}-{key}.json").read_bytes().split(b"\n", 1)
        if first == _checksum(text):
            return json.loads(text)
    return None


def _write(key: str, name: str, data: Any) -> Any:
    """Keep ``data``, whole or not at all, and return them as they will be read.

    A folder that does not take them is done without.
    """
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":")).encode()
    _put(f"{name}-{key}.json", name, _checksum(text) + b"\n" + text)
    return json.loads(text)


def _put(file: str, name: str, content: bytes) -> None:
    """Write a file into the cache, whole or not at all, and delete the oldest of its name."""
    from diagnose.basics.atomic_write import write_whole

    with suppress(OSError):
        folder = cache_folder()
        write_whole(folder / file, content)
        _delete_old(folder, name)


def _delete_old(folder: Path, name: str) -> None:
    kept = [path for path in folder.iterdir() if path.name.startswith(f"{name}-")]
    kept.sort(key=lambda path: path.stat().st_mtime, reverse=True)
    for path in kept[KEPT:]:
        path.unlink()
