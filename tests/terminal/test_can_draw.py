"""Where a whole screen can be drawn."""

from __future__ import annotations

import io

import pytest

from diagnose.terminal.can_draw import can_draw


class Stream(io.TextIOWrapper):
    """A stream that is a terminal or not, and shows these letters."""

    def __init__(self, *, terminal: bool = True, encoding: str = "utf-8") -> None:
        super().__init__(io.BytesIO(), encoding=encoding)
        self.terminal = terminal

    def isatty(self) -> bool:
        return self.terminal


XTERM = {"TERM": "xterm"}


def test_a_terminal_at_both_ends() -> None:
    assert can_draw(Stream(), Stream(), XTERM)
    assert can_draw(Stream(encoding="ascii"), Stream(encoding="UTF8"), {})


@pytest.mark.parametrize(
    ("stdin", "stderr", "environ"),
    [
        (Stream(terminal=False), Stream(), XTERM),
        (Stream(), Stream(terminal=False), XTERM),
        (None, Stream(), XTERM),
        (Stream(), None, XTERM),
        (Stream(), Stream(), {"TERM": "dumb"}),
        (Stream(), Stream(encoding="cp1252"), XTERM),
    ],
)
def test_anything_else_gets_plain_lines(
    stdin: Stream | None, stderr: Stream | None, environ: dict[str, str]
) -> None:
    assert not can_draw(stdin, stderr, environ)
