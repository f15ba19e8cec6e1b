"""A table of the shop taken up in the line-by-line session."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from diagnose.basics.errors import Fault
from diagnose.session.autosave import Bench
from diagnose.terminal.plain.console import Talk, number_in

if TYPE_CHECKING:
    from diagnose.sheets.given import Doubt, Given
    from diagnose.sheets.reading import Sheet


def take_sheet(bench: Bench, talk: Talk, file: str) -> str:
    """Show what is in a file, have it settled and confirmed, and take the readings down.

    Returns what is wrong, or an empty text.
    """
    from diagnose.sheets.given import Given
    from diagnose.sheets.in_words import sheet_in_words
    from diagnose.sheets.into import found_on, outcome_in_words, take_down
    from diagnose.sheets.opened import open_tables
    from diagnose.sheets.reading import settled

    session = bench.session
    try:
        tables = open_tables(Path(file).expanduser())
        read = settled(tables, session.book, Given(), lambda doubt: _choice(talk, doubt))
        talk.tell(sheet_in_words(read, doubts=False))
        found = found_on(read)
    except (Fault, RuntimeError) as fault:  # RuntimeError: there is no such home folder
        return str(fault)
    if not found or not _confirmed(talk, read):
        return "Nothing was taken down."
    wrong, outcome = bench.made(lambda: take_down(session, found))
    for line in outcome_in_words(session, outcome) if outcome else ():
        talk.say(line)
    return wrong


def _choice(talk: Talk, doubt: Doubt) -> Given | None:
    talk.say(doubt.say)
    talk.choices([choice.words for choice in doubt.choices], _0="leave it open")
    while (reply := talk.read()) not in ("", "0"):
        if (chosen := number_in(reply, len(doubt.choices))) is not None:
            return doubt.choices[chosen - 1].given
        talk.say(f"Type a number from 0 to {len(doubt.choices)}.")
    return None


def _confirmed(talk: Talk, read: Sheet) -> bool:
    talk.put()
    count = len(read.taken)
    talk.say(f"Are the columns right, and {'the reading' if count == 1 else 'all readings'}?")
    talk.say("yes takes them down; anything else does not.")
    return talk.read().lower() in ("yes", "y")
