"""Write a file whole or not at all."""

from __future__ import annotations

import os
import secrets
import time
from contextlib import suppress
from pathlib import Path

DRAFT = ".draft"
"""How the name of a file ends that is still being written."""
STALE = 3600.0
"""Seconds after which a draft is no longer being written: a kill left it behind."""
_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)


def write_whole(path: Path, content: bytes, *, sure: bool = False, new: bool = False) -> None:
    """Put ``content`` at ``path`` so that a crash leaves either the old file or the new one.

    ``sure``: wait until the disk itself has it, and its name. ``new``: raise FileExistsError where
    there is a file already; of two that try at once, one gets the name. Missing folders are made. A
    link is followed, and a file stays as open to others as it was; a new one is as open as
    ``umask`` has it. Raises OSError where it cannot be written; whatever stood at ``path`` is then
    untouched, and nothing is left over.
    """
    path = path if new else _behind(path)
    path.parent.mkdir(parents=True, exist_ok=True)
    draft = path.with_name(f".{path.stem[:20]}-{secrets.token_hex(4)}{DRAFT}")
    handle = os.open(draft, _NEW, 0o666)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            if sure:
                file.flush()
                os.fsync(file.fileno())
        if new:
            _claim(draft, path)
        else:
            with suppress(OSError):  # there is no old one, or no file here has a mode
                draft.chmod(path.stat().st_mode & 0o777)
            draft.replace(path)
    except BaseException:
        with suppress(OSError):
            draft.unlink(missing_ok=True)
        raise
    if sure:
        _name_to_disk(path.parent)


def sweep(folder: Path) -> None:
    """Take away drafts that a kill left in a folder; what cannot be taken away stays."""
    with suppress(OSError):
        for draft in folder.glob(f".*{DRAFT}"):
            if time.time() - draft.stat().st_mtime > STALE:
                draft.unlink(missing_ok=True)


def _behind(path: Path) -> Path:
    """Return the file that a link leads to, or the path itself; OSError for links in a ring."""
    if not path.is_symlink():
        return path
    try:
        return path.resolve(strict=True)
    except FileNotFoundError:
        return path.resolve()
    except RuntimeError as error:  # before Python 3.13
        raise OSError(str(error)) from None


def _claim(draft: Path, path: Path) -> None:
    """Give a draft its name, which nothing else may have."""
    try:
        os.link(draft, path)
    except FileExistsError:
        raise
    except OSError:  # no hard links here: the name is claimed first, and then filled
        os.close(os.open(path, _NEW, 0o666))
        try:
            draft.replace(path)
        except BaseException:
            path.unlink(missing_ok=True)
            raise
    else:
        draft.unlink()


def _name_to_disk(folder: Path) -> None:
    """Have the names in a folder written out; not every system can, and none need be told."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
