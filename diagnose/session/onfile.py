"""The file of the reject on the bench: claimed once, and never written over unseen."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from diagnose.basics.atomic_write import sweep
from diagnose.basics.errors import Fault, Place, Problem
from diagnose.reject.name_and_section import LONGEST_NAME
from diagnose.reject.reject import Reject
from diagnose.session.rejectfile import LIMIT, dumped, put, read_reject
from diagnose.session.session import Session
from diagnose.session.shelf import Shelf
from diagnose.session.together import together

MOST_NAMES = 10_000
PATIENCE = 2.0
"""Seconds to wait for another session that is just writing; writing takes some hundredths."""
JOINED = "This reject was worked on elsewhere too. What was entered there is now here as well."
TAKEN_AWAY = "The file of this reject was taken away meanwhile. It is kept again."


class NoRoom(Fault):
    """Raised where a reject has become longer than a file of it may be; nothing was written."""


@dataclass(slots=True)
class OnFile:
    """Where a reject is kept, and what its session last saw there.

    ``path``: none until it is first kept; then the file that was opened, whatever name stands in
    it. ``seen``: the content of the file; ``known``: the reject that it holds.
    """

    shelf: Shelf
    path: Path | None = None
    seen: bytes = b""
    known: Reject | None = None

    def keep(self, session: Session) -> str:
        """Put the reject on the disk; return what the person has to know of it, or "".

        What others wrote into the file meanwhile is taken over where both can hold; else this
        reject is kept beside theirs under another name. Raises Fault where the disk will not take
        it, and NoRoom where it is too long; what was kept before is then untouched.
        """
        told: list[str] = []
        folder = self.shelf.folder if self.path is None else self.path.parent
        with _alone(folder):
            if self.path is not None:
                told.append(self._look(session))
            content = self._fitting(session)
            if self._has_its_name(session.reject.name):
                self._write(content)
            else:
                told.append(self._claim(session))
            self.known = session.reject
        return " ".join(filter(None, told))

    def is_there(self) -> bool:
        """Look whether the disk has what was last kept."""
        try:
            return self.path is not None and self.path.read_bytes() == self.seen
        except OSError:
            return False

    def _fitting(self, session: Session) -> bytes:
        content = dumped(session)
        if len(content) > max(LIMIT, len(self.seen)):
            what = "This no longer fits into one reject."
            way_out = "Say it in fewer words, or strike something out."
            raise NoRoom(Problem(Place(), what, way_out))
        return content

    def _look(self, session: Session) -> str:
        """See whether others wrote into the file, and bring both together."""
        assert self.path is not None
        assert self.known is not None
        try:
            now = self.path.read_bytes()
        except OSError:
            return "" if self.path.exists() else TAKEN_AWAY
        if now == self.seen:
            return ""
        there = session.another()
        try:
            read_reject(self.path, there, begun=True, content=now)
        except Fault:
            return self._part("in a way that cannot be read")
        base, theirs = self.known, there.reject
        _, clashes = together(base, session.reject, theirs)
        if clashes:
            return self._part(f"and otherwise ({', '.join(clashes)})")
        session.everywhere(lambda reject: together(base, reject, theirs)[0])
        self.seen, self.known = now, theirs
        return JOINED

    def _part(self, how: str) -> str:
        """Leave the file to the others; this reject is to be kept beside it."""
        where, self.path = self.path, None
        return f"{where} was changed elsewhere {how}. It stays as it is there."

    def _has_its_name(self, name: str) -> bool:
        """Tell whether the file is the one for a reject of this name: it is, until it is renamed.

        A file that was opened keeps its name, whatever the reject in it is called.
        """
        if self.path is None or self.known is None:
            return False
        return name == self.known.name or self.shelf.path_for(name) == self.path

    def _write(self, content: bytes) -> None:
        assert self.path is not None
        if content != self.seen or not self.path.exists():
            put(content, self.path)
            self.seen = content

    def _claim(self, session: Session) -> str:
        """Keep the reject under its name, or the next that is free; the file it had goes."""
        old, wanted = self.path, session.reject.name
        sweep(self.shelf.folder)
        for name in _names(self.shelf, wanted):
            if name != session.reject.name:
                session.everywhere(partial(_renamed, old=wanted, new=name))
            content, path = self._fitting(session), self.shelf.path_for(name)
            with suppress(FileExistsError):
                put(content, path, new=True)
                break
        self.path, self.seen = path, content
        if old is not None:
            self.shelf.discard(old)
        return "" if name == wanted else f"The name {wanted} is taken; this reject is now {name}."


def _renamed(reject: Reject, old: str, new: str) -> Reject:
    return replace(reject, name=new) if reject.name == old else reject


def _names(shelf: Shelf, wanted: str) -> Iterator[str]:
    """Yield names that may be free: the one wanted, then others like it."""
    yield wanted
    if shelf.is_given(wanted):
        for _ in range(MOST_NAMES):
            yield shelf.free_name()
    else:
        short = wanted[: LONGEST_NAME - 6]
        yield from (f"{short} {number}" for number in range(2, MOST_NAMES))
    raise Fault(f"There are too many rejects called {wanted}. Give this one another name.")


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Keep other sessions from writing into a folder meanwhile.

    Where the system has no such lock, a name is still claimed by one session only, and what was
    written before is still seen; only two that write in the same hundredth of a second are not told
    apart.
    """
    try:
        import fcntl
    except ImportError:
        yield
        return
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle = os.open(folder, os.O_RDONLY)
    except OSError:  # writing will say what is wrong
        yield
        return
    try:
        end = time.monotonic() + PATIENCE
        while True:
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
                break
            except BlockingIOError:
                if time.monotonic() > end:
                    raise Fault(f"Another session does not let go of {folder}.") from None
                time.sleep(0.01)
            except OSError:  # no locks on this file system
                break
        yield
    finally:
        os.close(handle)
