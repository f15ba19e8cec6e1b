"""Letters as they come in from outside, and as they may go out to a terminal."""

from __future__ import annotations

import re

_STEERING = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
"""Control characters (ISO/IEC 6429) but tab and new line, and those that turn the writing round."""
_UNREAD = re.compile(r"[\udc80-\udcff]")


def harmless(text: str) -> str:
    r"""Return a text in which nothing steers a terminal: a question mark for each such sign.

    >>> harmless("cover\x1b[2J.yaml: no such file")
    'cover?[2J.yaml: no such file'
    """
    return _STEERING.sub("?", text)


def readable(text: str) -> str:
    r"""Return a text whose bytes that are no UTF-8 are the letters of Western Europe (cp1252).

    Such bytes come out of a stream opened with ``surrogateescape``.

    >>> readable(b"Gu\xdf, \xc3\xa4".decode("utf-8", "surrogateescape"))
    'Guß, ä'
    """
    return _UNREAD.sub(lambda one: bytes([ord(one[0]) - 0xDC00]).decode("cp1252", "replace"), text)
