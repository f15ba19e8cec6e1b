"""Kill -9 after one line after another: what was answered before is there afterwards."""

from __future__ import annotations

import io
import os
import signal
from pathlib import Path

import pytest

from diagnose.reject.reject import Reject
from diagnose.session.rejectfile import read_reject
from diagnose.session.session import Session, open_session
from diagnose.session.shelf import Shelf
from diagnose.terminal.plain.console import Talk
from diagnose.terminal.plain.conversation import run

SMALL_BOOK = Path(__file__).parents[1] / "terminal" / "screens" / "small-book"
SCRIPT = (
    "cover-0412", "", "", "8 mm", "smooth holes", "like the moon", "0", "moisture 4.6 %",
    "gas hole", "1", "", "0", "0", "back", "0", "reading mould hardness 80 B", "about", "lid",
    "", "", "9 mm",
)  # fmt: skip


@pytest.fixture(scope="module")
def session() -> Session:
    return open_session(folder=SMALL_BOOK)


def killed_after(session: Session, shelf: Shelf, lines: tuple[str, ...]) -> None:
    """Type these lines into a process of its own; kill it when it asks for the next."""
    read, write = os.pipe()
    asked, ask = os.pipe()
    child = os.fork()
    if not child:  # everything here happens in the other process
        try:
            really = Talk.read

            def told(talk: Talk, prompt: str = "") -> str:
                os.write(ask, b"?")
                return really(talk, prompt)

            Talk.read = told  # type: ignore[method-assign]
            run(session, shelf, os.fdopen(read, encoding="utf-8"), io.StringIO())
        finally:
            os._exit(1)
    os.close(read)
    os.close(ask)
    os.write(write, "".join(f"{line}\n" for line in lines).encode())
    questions = b""
    while len(questions) <= len(lines):
        more = os.read(asked, 1)
        assert more, "it ended by itself"
        questions += more
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert os.WTERMSIG(status) == signal.SIGKILL
    os.close(write)
    os.close(asked)


def on(shelf: Shelf, session: Session) -> list[Reject]:
    """Return every reject on a shelf."""
    rejects = []
    for one in shelf.kept():
        again = session.another()
        read_reject(one.path, again, begun=True)
        rejects.append(again.reject)
    return rejects


@pytest.mark.parametrize("number", range(1, len(SCRIPT) + 1))
def test_what_was_answered_before_a_kill_is_there(
    session: Session, tmp_path: Path, number: int
) -> None:
    """Held against the same lines typed into a conversation that comes to its end."""
    lines = SCRIPT[:number]
    killed, whole = Shelf(tmp_path / "killed"), Shelf(tmp_path / "whole")
    session.desk  # noqa: B018 - made ready before it is doubled
    killed_after(session, killed, lines)
    run(session, whole, io.StringIO("".join(f"{line}\n" for line in lines)), io.StringIO())
    assert on(killed, session) == on(whole, session)
    assert len(on(killed, session)) == 1
    if number == len(SCRIPT):
        (reject,) = on(killed, session)
        assert (reject.name, reject.section) == ("lid", 9.0)
        assert len(reject.found) >= 3
