"""Where rejects are kept between two sittings."""

from __future__ import annotations

import os
import re
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from stat import S_ISREG

from diagnose.basics.errors import Fault

LONGEST = 200
"""Bytes of a file's name; file systems take 255, and a draft's name is a little longer."""


_LAST = datetime(9999, 12, 30, tzinfo=UTC).timestamp()


@dataclass(frozen=True, slots=True)
class Kept:
    """A reject on the shelf; ``changed`` is when it was last written, in local time."""

    name: str
    path: Path
    changed: datetime


@dataclass(frozen=True, slots=True)
class Shelf:
    """The folder that keeps rejects: one file each, named after the reject."""

    folder: Path

    def path_for(self, name: str) -> Path:
        """Return the file of a reject of this name.

        >>> Shelf(Path("kept")).path_for("Cover 04/12").name
        'cover-04-12.yaml'
        """
        plain = re.sub(r"[^\w]+", "-", name.strip().lower()).strip("-") or "unnamed"
        short = plain.encode()[:LONGEST].decode(errors="ignore")
        return self.folder / f"{short}.yaml"

    def free_name(self) -> str:
        """Return a name that no kept reject has yet: today's date and a number."""
        today = datetime.now(tz=UTC).astimezone().strftime("%Y-%m-%d")
        number = 1
        while self.path_for(f"reject {today} {number}").exists():
            number += 1
        return f"reject {today} {number}"

    def is_given(self, name: str) -> bool:
        """Tell whether a name is such as ``free_name`` gives.

        >>> Shelf(Path("kept")).is_given("reject 2026-03-14 2"), Shelf(Path("kept")).is_given("lid")
        (True, False)
        """
        return re.fullmatch(r"reject \d{4}-\d\d-\d\d \d+", name) is not None

    def kept(self) -> list[Kept]:
        """Return the rejects on the shelf, the latest first; what is no file is passed over."""
        paths: list[Path] = []
        with suppress(OSError):
            paths = [*self.folder.glob("*.yaml")]
        found = [one for path in paths if (one := _kept(path)) is not None]
        return sorted(found, key=lambda kept: kept.changed, reverse=True)

    def discard(self, path: Path) -> None:
        """Take a kept reject away."""
        try:
            path.unlink(missing_ok=True)
        except OSError as error:
            raise Fault(f"{path} could not be taken away: {error.strerror or error}.") from None


def _kept(path: Path) -> Kept | None:
    """Return what is kept in a file; nothing where it is none, or was taken away just now."""
    try:
        about = path.stat()
    except OSError:
        return None
    return Kept(path.stem, path, _moment(about.st_mtime)) if S_ISREG(about.st_mode) else None


def _moment(seconds: float) -> datetime:
    """Return a time of a file as a moment; one that no calendar has as the nearest that it has.

    A broken clock or disk may give any number of seconds.
    """
    within = min(max(seconds, 0.0), _LAST)
    return datetime.fromtimestamp(within, tz=UTC).astimezone()


def shelf() -> Shelf:
    """Return the shelf: the folder DIAGNOSE_REJECTS, or the user's own data folder."""
    if chosen := os.environ.get("DIAGNOSE_REJECTS"):
        return Shelf(Path(chosen))
    from platformdirs import user_data_dir

    return Shelf(Path(user_data_dir("diagnose")) / "rejects")
