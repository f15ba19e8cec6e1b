"""What goes with a reject: read from its file, saved, undone, and no matter to the causes."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.basics.errors import Fault
from diagnose.notes.report import as_data
from diagnose.reject.reject import Reject
from diagnose.reject.ticket import Ticket
from diagnose.session.rejectfile import read_reject, save
from diagnose.session.session import Session

TOLD = """\
reject: cover
pattern: P-17
date: 14.3.2026
heat: 0099
bad: 6 of 40
moulder: A. Example
core maker: B. Example
box: 3
seen:
  - {look: cavity-wall, answer: smooth}
"""
WHOLE = Ticket("P-17", "2026-03-14", "0099", 6, 40, "A. Example", "B. Example", "3")
Start = Callable[..., Session]


def test_a_ticket_is_read_saved_and_read_again(start: Start, tmp_path: Path) -> None:
    path = tmp_path / "reject.yaml"
    path.write_text(TOLD, encoding="utf-8")
    session = start()
    reading = read_reject(path, session)
    assert session.reject.ticket == WHOLE
    save(session, path)
    again = start()
    read_reject(path, again)
    assert again.reject == session.reject
    about = as_data(again, reading, 1)["reject"]
    assert (about["heat"], about["bad"], about["of"], about["section_mm"]) == ("0099", 6, 40, None)
    assert about["date"] == "2026-03-14"


@pytest.mark.parametrize(
    ("line", "place", "says"),
    [
        ("date: 3/4/2026", "2:7", "could be two days"),
        ("bad: 40 of 6", "2:6", "Write the bad ones first: 6 of 40."),
        ("moulder: [A, B]", "2:10", "takes one value"),
        ("qty: 6", "2:1", "Did you mean 'bad'?"),
        ("plate: 3", "2:1", "Did you mean 'box'?"),
        ("core-maker: B", "2:1", "Did you mean 'core maker'?"),
        ("Heat no.: 9", "2:1", "Did you mean 'heat'?"),
        ("colour: red", "2:1", "Known are reject, metal,"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(
    start: Start, tmp_path: Path, line: str, place: str, says: str
) -> None:
    path = tmp_path / "reject.yaml"
    path.write_text(f"reject: cover\n{line}\nseen: [smooth holes]\n", encoding="utf-8")
    with pytest.raises(Fault) as fault:
        read_reject(path, start())
    (problem,) = fault.value.problems
    assert f"{problem.place.line}:{problem.place.column}" == place
    assert says in str(problem)


def test_a_change_of_the_ticket_is_undone_like_any_other(start: Start) -> None:
    session = start(Reject())
    session.about(heat="99")
    session.about(bad="6 of 40")
    with pytest.raises(Fault, match="first: 6 of 40"):
        session.about(bad="40 of 6")
    assert (session.reject.ticket.heat, session.reject.ticket.of) == ("99", 40)
    assert session.undo()
    assert session.reject.ticket == Ticket(heat="99")
    assert session.undo()
    assert session.reject.ticket == Ticket()
    assert session.redo()
    assert session.reject.ticket == Ticket(heat="99")


def test_an_entry_that_is_none_is_refused(start: Start) -> None:
    with pytest.raises(Fault, match="Did you mean 'moulder'"):
        start(Reject()).about(molder="A")


def test_the_ticket_says_nothing_of_the_cause(start: Start) -> None:
    session = start(Reject())
    session.answer("fault-form", "hole")
    before = session.causes()
    session.about(pattern="P", moulder="A. Example", bad="1 of 2")
    assert session.causes() == before
