"""What was answered and measured, in the words of the rule base."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from diagnose.notes.note import Findings
from diagnose.reasoning.readings import CLEARLY
from diagnose.reasoning.reasons import entry_title, found_text, reading_text, weight_in_words
from diagnose.reject.found import UNSURE, Found
from diagnose.reject.reject import one_line

if TYPE_CHECKING:
    from diagnose.session.session import Session

_FOLLOWS = "follows from the readings"
_IDLE = "adds next to nothing to the rest"
"""A finding is weighed beside all the others: where they say it already, it adds little."""


def finding_in_words(session: Session, found: Found) -> str:
    """Return one finding in words, a reading with where it stands."""
    text = found_text(session.desk, found)
    stands = next((r.words for r in session.readings() if r.id == found.id), "")
    return f"{text}, {stands}" if stands else text


def anything(session: Session) -> bool:
    """Tell whether anything at all was found; what could not be told does not count."""
    return any(found.kind != UNSURE for found in session.reject.findings)


def weighed(session: Session, cause: str) -> tuple[Findings, ...]:
    """Return everything found, sorted by how it speaks for or against ``cause``, strongest first.

    Without a cause (an empty id) all in one, in the order in which it came.
    """
    known = [found for found in session.reject.findings if found.kind != UNSURE]
    pushes = {push.entry: push for push in session.explain(cause)} if cause else {}
    known.sort(key=lambda found: -abs(pushes[found.id].decibans) if found.id in pushes else 0.0)
    texts: dict[str, list[str]] = {}
    for found in known:
        weighs = pushes[found.id].words if found.id in pushes else ""
        weighs = _IDLE if weighs == weight_in_words(0.0) else weighs
        texts.setdefault(weighs, []).append(finding_in_words(session, found))
    if follows := [text for _, text in following(session)]:
        texts[_FOLLOWS] = follows
    return tuple(Findings(tuple(lines), weighs) for weighs, lines in texts.items())


def following(session: Session) -> Iterator[tuple[str, str]]:
    """Yield the id and the words of what follows from the readings and lies outside its window."""
    for reading in session.readings():
        outside = max(reading.chances[0], reading.chances[2]) >= CLEARLY
        if reading.working and outside:
            yield reading.id, f"{reading_text(reading)}, {reading.words}"


def unsure(session: Session) -> tuple[str, ...]:
    """Return what the person could not tell."""
    kept = (found.id for found in session.reject.found if found.kind == UNSURE)
    return tuple(entry_title(session.desk, entry) for entry in kept)


def not_understood(session: Session) -> tuple[str, ...]:
    """Return the person's phrases that meant nothing to the program."""
    return tuple(one_line(phrase) for phrase in session.reject.not_understood)
