"""Talking line by line: what is printed, what is read, and the end of input."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from io import TextIOWrapper
from typing import TextIO

from diagnose.basics.layout import WIDTH, Line, Section, plain_text
from diagnose.basics.letters import harmless, readable
from diagnose.notes.render import showable
from diagnose.notes.wording import one_line

LONGEST_NUMBER = 9
"""Figures of a number that is typed to choose something."""


class EndOfInput(Exception):  # noqa: N818 - it ends the talk; nothing is wrong
    """Raised when there is no more to read."""


def number_in(reply: str, most: int, least: int = 1) -> int | None:
    """Return the number typed where it lies between ``least`` and ``most``, else None.

    >>> number_in("3", 5), number_in("7", 5), number_in("9" * 5000, 5), number_in("skip", 5)
    (3, None, None, None)
    """
    if not reply.isdecimal() or len(reply) > LONGEST_NUMBER:
        return None
    number = int(reply)
    return number if least <= number <= most else None


class Talk:
    """Prints plain text of at most 78 columns and reads one line at a time.

    No escape codes, no drawn boxes: fit for pipes and screen readers. Lines read from a pipe are
    printed too, so that the printed talk can be read by itself.
    """

    def __init__(self, stdin: TextIO | None, stdout: TextIO | None) -> None:
        self.stdin = stdin
        self.stdout = stdout
        if isinstance(stdin, TextIOWrapper):
            stdin.reconfigure(errors="surrogateescape")  # nothing that is typed stops the talk
        self.encoding = getattr(stdout, "encoding", None) or "utf-8"

    def put(self, text: str = "") -> None:
        """Print text as it is."""
        print(showable(harmless(text), self.encoding), file=self.stdout)

    def say(self, text: str, left: str = "") -> None:
        """Print one paragraph, wrapped."""
        self.put("\n".join(Line(text, left).wrapped(WIDTH)))

    def tell(self, sections: Iterable[Section]) -> None:
        """Print sections."""
        self.put()
        self.put(plain_text(sections, WIDTH))

    def choices(self, texts: Sequence[str], **others: str) -> None:
        """Print numbered lines, then those with a letter or nought of their own."""
        for number, text in enumerate(texts, 1):
            self.say(text, f"{number:>2}  ")
        for sign, text in others.items():
            self.say(text, f"{sign.removeprefix('_'):>2}  ")

    def read(self, prompt: str = "") -> str:
        """Ask for one line and return it stripped; raise EndOfInput where there is none."""
        lead = f"{prompt} > " if prompt else "> "
        print(showable(lead, self.encoding), end="", file=self.stdout, flush=True)
        line = self.stdin.readline() if self.stdin is not None else ""
        if not line:
            self.put()
            raise EndOfInput
        line = one_line(readable(line))
        if self.stdin is not None and not self.stdin.isatty():
            self.put(line)
        return line
