"""Get the text of a file, refusing what is no plain text of a sensible size."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from diagnose.basics.errors import Fault, Place, Problem

_UNPRINTABLE_ASCII = re.compile(r"[^\t\n\r\x20-\x7e]")


@cache
def _unprintable() -> re.Pattern[str]:
    """Return what finds an unprintable character; made when it is needed, as it takes 5 ms."""
    return re.compile(r"[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def text_of(source: Path | str | bytes, name: str, limit: int) -> str:
    """Return the text of a file (a ``Path``), of bytes, or of a text, of at most ``limit`` bytes.

    ``name`` is what messages call it. Raises Fault, with the spot where there is one, for what is
    missing, too big, not UTF-8 or not printable.
    """
    return _decoded(bytes_of(source, name, limit), name)


def bytes_of(source: Path | str | bytes, name: str, limit: int) -> bytes:
    """Return the bytes of a file or text, refusing what is missing, unreadable or too big."""
    here = Place(name)
    if isinstance(source, str):
        raw = source.encode("utf-8", "surrogatepass")
    elif isinstance(source, bytes):
        raw = source
    else:
        try:
            with source.open("rb") as file:
                raw = file.read(limit + 1)
        except FileNotFoundError:
            raise Fault(Problem(here, "There is no such file.", "Check the name.")) from None
        except IsADirectoryError:
            raise Fault(Problem(here, "This is a folder.", "Name a file in it.")) from None
        except (OSError, ValueError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            raise Fault(Problem(here, f"The file cannot be read: {reason}.")) from None
    if len(raw) > limit:
        what = f"The file is bigger than {limit / 1e6:g} MB."
        raise Fault(Problem(here, what, "Split it, or check that it is the right file."))
    return raw


def _decoded(raw: bytes, name: str) -> str:
    """Decode UTF-8, refusing binary files and other encodings with the spot."""
    if b"\0" in raw[:4096] or raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        what = "This is not a text file in UTF-8 but a binary one, or one in UTF-16."
        raise Fault(Problem(Place(name), what, "Save it as plain text in UTF-8."))
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = raw[: error.start].decode("utf-8", "replace")
        what = f"The byte {raw[error.start]:#04x} is not UTF-8."
        raise Fault(Problem(_after(before, name), what, "Save the file as UTF-8.")) from None
    if bad := (_UNPRINTABLE_ASCII if text.isascii() else _unprintable()).search(text):
        what = f"There is an unprintable character here (code {ord(bad.group()):#04x})."
        raise Fault(Problem(_after(text[: bad.start()], name), what, "Delete it."))
    return text


def _after(text: str, name: str) -> Place:
    """Return the place just after ``text``."""
    lines = text.split("\n")
    return Place(name, len(lines), len(lines[-1]) + 1)
