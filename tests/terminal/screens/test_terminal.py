"""The program in a real terminal: started, used and left as a person would."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.terminal.screens.conftest import SMALL_BOOK

COLOUR = re.compile(rb"\x1b\[(?:\d+;)*[34]8;[25];")
"""How a terminal is told to use a colour other than its own two: ECMA-48, SGR 38 and 48."""


class Terminal:
    """A pseudo-terminal of 80 by 24 with the program in it."""

    def __init__(self, folder: Path, **environ: str) -> None:
        self.master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        self.program = subprocess.Popen(
            [sys.executable, "-m", "diagnose", "--knowledge", str(SMALL_BOOK)],
            stdin=slave,
            stdout=slave,
            stderr=slave,
            env={
                **os.environ,
                "TERM": "xterm-256color",
                "DIAGNOSE_REJECTS": str(folder),
                **environ,
            },
        )
        os.close(slave)
        self.seen = b""

    def until(self, text: bytes, seconds: float = 30.0) -> None:
        """Read until ``text`` has come."""
        end = time.monotonic() + seconds
        while text not in self.seen:
            left = end - time.monotonic()
            assert left > 0, f"{text!r} did not come"
            if select.select([self.master], [], [], left)[0]:
                try:
                    self.seen += os.read(self.master, 65536)
                except OSError:
                    assert text in self.seen, f"{text!r} did not come before the end"

    def press(self, keys: bytes) -> None:
        os.write(self.master, keys)


@pytest.fixture
def terminal(tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[Terminal]:
    terminal = Terminal(tmp_path, **getattr(request, "param", {}))
    yield terminal
    terminal.program.kill()
    terminal.program.wait()
    os.close(terminal.master)


@pytest.mark.parametrize("terminal", [{"NO_COLOR": "1"}], indirect=True)
def test_no_colour_is_sent_where_none_is_wanted(terminal: Terminal) -> None:
    terminal.until(b"a new reject")
    terminal.press(b"1")
    terminal.until(b"Ruling section")
    assert not COLOUR.search(terminal.seen)


def test_ctrl_c_stays_and_leaving_says_where_the_reject_is(
    terminal: Terminal, tmp_path: Path
) -> None:
    terminal.until(b"a new reject")
    terminal.press(b"1")
    terminal.until(b"Ruling section")
    terminal.press(b"\x1bOR")
    terminal.until(b"What do you see?")
    terminal.press(b"smooth holes\r")
    terminal.until(b"as if blown")
    terminal.press(b"\x03")
    terminal.until(b"Nothing is lost")
    terminal.press(b"\x1b[24~")
    terminal.until(b"Kept: ")
    assert terminal.program.wait(30) == 0
    assert b"\x1b[?1000h" not in terminal.seen
    assert [path.suffix for path in tmp_path.iterdir()] == [".yaml"]


@pytest.mark.parametrize(
    ("keys", "seen", "kept"),
    [
        ((b"cover-9\r",), b"Left or Right for another metal", "reject: cover-9"),
        ((b"\x1bOR", b"smooth holes\r"), b"as if blown", "smooth holes"),
        ((b"\x1bOR", b"like the moon\r"), b"kept for the note", "like the moon"),
    ],
)
def test_a_kill_loses_nothing_that_was_answered(
    terminal: Terminal, tmp_path: Path, keys: tuple[bytes, ...], seen: bytes, kept: str
) -> None:
    """Kill -9 as soon as the screen shows that it was taken down."""
    terminal.until(b"a new reject")
    terminal.press(b"1")
    terminal.until(b"Ruling section")
    for key in keys[:-1]:
        terminal.press(key)
        terminal.until(b"What do you see?")
    terminal.press(keys[-1])
    terminal.until(seen)
    terminal.program.kill()
    terminal.program.wait(30)
    (file,) = tmp_path.glob("*.yaml")
    assert kept in file.read_text(encoding="utf-8")
