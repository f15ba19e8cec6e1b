"""The console: what is printed and read, whatever stands at the other end."""

from __future__ import annotations

import io

import pytest

from diagnose.basics.layout import Line, Section
from diagnose.terminal.plain.console import WIDTH, EndOfInput, Talk


class Terminal(io.StringIO):
    """Input typed by somebody who sees it already."""

    def isatty(self) -> bool:
        return True


def printed(talk: Talk) -> str:
    assert isinstance(talk.stdout, io.StringIO)
    return talk.stdout.getvalue()


@pytest.fixture
def talk() -> Talk:
    return Talk(io.StringIO("  cover\x1b[2J 7 \nlast"), io.StringIO())


def test_a_line_is_read_without_what_steers_a_screen_until_there_is_none(talk: Talk) -> None:
    assert talk.read("Name") == "cover [2J 7"
    assert talk.read() == "last"
    with pytest.raises(EndOfInput):
        talk.read()
    assert printed(talk) == "Name > cover [2J 7\n> last\n> \n"


def test_what_is_typed_at_a_terminal_is_not_printed_again() -> None:
    talk = Talk(Terminal("cover\n"), io.StringIO())
    assert talk.read("Name") == "cover"
    assert printed(talk) == "Name > "


def test_no_input_at_all_is_the_end_of_it() -> None:
    with pytest.raises(EndOfInput):
        Talk(None, io.StringIO()).read()


def test_a_paragraph_is_wrapped_beside_what_stands_at_its_left(talk: Talk) -> None:
    talk.say("word " * 40, " 1  ")
    rows = printed(talk).splitlines()
    assert len(rows) == 3
    assert all(len(row) <= WIDTH for row in rows)
    assert rows[0].startswith(" 1  word")
    assert all(row.startswith("    word") for row in rows[1:])


def test_choices_are_numbered_and_others_have_their_own_sign(talk: Talk) -> None:
    talk.choices(["yes", "no"], _0="none of these", b="back")
    assert printed(talk).splitlines() == [" 1  yes", " 2  no", " 0  none of these", " b  back"]


def test_sections_stand_apart_from_what_was_said_before(talk: Talk) -> None:
    talk.tell([Section("One", (Line("a", "- "),))])
    assert printed(talk) == "\nOne\n- a\n"


def test_a_sign_that_the_other_end_cannot_show_is_written_otherwise() -> None:
    raw = io.BytesIO()
    stdout = io.TextIOWrapper(raw, encoding="ascii")
    talk = Talk(io.StringIO(), stdout)
    talk.put("3 \u2264 4")
    stdout.flush()
    assert raw.getvalue().decode("ascii").startswith("3 ")
