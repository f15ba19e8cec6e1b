"""What to hold back at once: by the fault, and by what was found of which castings are bad."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from diagnose.notes.findings import anything
from diagnose.notes.wording import sentence
from diagnose.reject.found import LOOK, SURE

if TYPE_CHECKING:
    from diagnose.session.session import Session

FAIR = 0.15
"""Probability from which a fault is worth containing."""
MOST_FOUND = 2
"""Answers that say what to hold; more of them would only tell the same castings again."""

_HOLD = (
    "Set the casting aside unbroken, with its mould, core and ladle numbers. Hold what was poured "
    "from the same sand, cores and iron until a good one of each has been cut or sounded."
)


def contain(session: Session) -> tuple[str, ...]:
    """Return what to hold: first what the answers say, then what goes for the likeliest fault.

    A second fault that is about as likely has its say as well.
    """
    known = session.book.defects
    if not anything(session):
        return (_HOLD,)
    found = list(_by_answers(session))[:MOST_FOUND]
    shares = [s for s in session.defects() if s.probability >= FAIR]
    near = [s for s in shares[:2] if s.probability * 2 >= shares[0].probability]
    return (*found, *(tuple(sentence(known[s.id].contain) for s in near) or (_HOLD,)))


def _by_answers(session: Session) -> Iterator[str]:
    """Yield what to hold because of what was found; what was only likely heard holds nothing."""
    for found in session.reject.findings:
        if found.kind == LOOK and found.chance >= SURE and found.id in session.book.looks:
            answer = session.book.looks[found.id].answers.get(found.answer)
            if answer is not None and answer.contain:
                yield sentence(answer.contain)
