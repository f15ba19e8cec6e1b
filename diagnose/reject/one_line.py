"""What a person wrote, fit for one line of a screen or a page."""

from __future__ import annotations


def one_line(text: str) -> str:
    r"""Return what a person wrote on one line, without characters that steer a screen or printer.

    >>> one_line("cover\n\x1b[31m 7")
    'cover [31m 7'
    """
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
