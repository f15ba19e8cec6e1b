"""Why was this casting scrapped? Names the fault, finds the cause, and says what to do.

>>> import diagnose
>>> session = diagnose.start(metal="grey iron", process="green sand", section="8 mm")
>>> session.answer("fault-form", "hole")
>>> session.ask_next()[0].kind
'look'
>>> diagnose.note(session).splitlines()[1]
'WHAT IT IS'
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagnose.rulebase.book import Book
    from diagnose.session.session import Session

__version__ = "0.1.0"


def start(folder: Path | str | None = None, **about: str) -> Session:
    """Start work on a reject; ``diagnose.session.session.Session`` says what can be done with it.

    ``folder``: the rule base, if not the one that came with the program. ``about``: ``name``,
    ``metal``, ``process`` and ``section``, as ``Session.about`` takes them.
    """
    from diagnose.session.session import open_session

    session = open_session(folder=folder)
    session.about(**about)
    return session


def load(folder: Path | str | None = None) -> Book:
    """Load the rule base, if not the one that came with the program that of ``folder``.

    Raises ``diagnose.basics.errors.Fault`` with everything that keeps it from being worked with.
    """
    from diagnose.rulebase.load import load as load_book

    return load_book(folder)


def note(session: Session, form: str = "txt") -> str:
    """Return the corrective-action note of a session as ``txt``, ``md`` or ``html``."""
    from diagnose.notes.render import render

    return render(session, form)
