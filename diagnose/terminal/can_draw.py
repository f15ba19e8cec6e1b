"""Whether a whole screen can be drawn here."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TextIO


def can_draw(stdin: TextIO | None, stderr: TextIO | None, environ: Mapping[str, str]) -> bool:
    """Tell whether the screens can run: keys come from a terminal and the drawing goes to one.

    The screens draw on standard error, so standard output may be a file. A stream is None where
    it was closed. A terminal that calls itself dumb, and one that cannot show more than a few
    letters, get plain lines instead.
    """
    if stdin is None or stderr is None or environ.get("TERM") == "dumb":
        return False
    encoding = (stderr.encoding or "").lower().replace("-", "")
    return stdin.isatty() and stderr.isatty() and encoding == "utf8"
