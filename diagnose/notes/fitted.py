"""Make the first page of a note fit: what is told at length moves to the second, bit by bit.

Nothing is lost. A text that is cut to its first sentences stands whole on the second page.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

from diagnose.notes.amounts import HAZARD
from diagnose.notes.note import Correction, Note, PlanStep, Suspect

ROOM = 60
"""Lines of the first page as plain text."""

Trim = Callable[[Note], Note]

_ENDS = re.compile(r"(?<=[.!?])\s+")
_KEPT = re.compile(r"^(By these readings|Safety)\b")
"""Sentences of an amount that stay: the figure itself, and what keeps people whole."""


def fitted(note: Note, lines: Callable[[Note], int], room: int = ROOM) -> Note:
    """Return the note with a first page of at most ``room`` lines, if it can be done.

    ``lines``: how many lines the first page takes. What matters least in the moulder's hand goes
    first: how a check is made, then what to watch for, then the longer half of everything else.
    """
    for trim in TRIMS:
        if lines(note) <= room:
            return note
        note = trim(note)
    return note


def _cut(text: str, keep: int) -> str:
    """Return the first few sentences of a text, and those behind them that have to stay.

    Those are the figure of an amount, and what is said of a hazard.

    >>> _cut("Turn it. Look. Wait.", 1), _cut("Up to 4 %. By these readings: 2 kg. Mind it.", 1)
    ('Turn it.', 'Up to 4 %. By these readings: 2 kg.')
    """
    parts = _ENDS.split(text)
    return " ".join([*parts[:keep], *(part for part in parts[keep:] if _stays(part))])


def _stays(part: str) -> bool:
    return bool(_KEPT.match(part) or HAZARD.search(part))


def _moved(note: Note, before: Iterable[tuple[str, str, str]], **changed: Any) -> Note:
    """Return the note changed; texts that were cut (heading, whole, cut) go to the second page.

    One that stands there whole already is not told twice.
    """
    gone = [f"{about}: {whole}" for about, whole, cut in before if whole != cut]
    return replace(note, in_full=(*note.in_full, *_not_yet(note.in_full, gone)), **changed)


def _not_yet(known: Iterable[str], new: Iterable[str]) -> list[str]:
    """Return the texts of which no longer telling is known; a cut is cut again later."""
    heads = [one.partition(": ") for one in known]
    return [
        text
        for text in dict.fromkeys(new)
        if not any(
            head == text.partition(": ")[0] and whole.startswith(text.partition(": ")[2][:40])
            for head, _, whole in heads
        )
    ]


def steps_told(keep: int) -> Trim:
    """Return the trim that tells how to make a check in so many sentences."""

    def trim(note: Note) -> Note:
        cut = [replace(one.step, how=_cut(one.step.how, keep)) for one in note.plan]
        whole = [
            (_head(one.step.name), one.step.how, step.how)
            for one, step in zip(note.plan, cut, strict=True)
        ]
        plan = tuple(
            PlanStep(step, one.proves, one.settles)
            for one, step in zip(note.plan, cut, strict=True)
        )
        return _moved(note, whole, plan=plan)

    return trim


def corrections_told(part: str, keep: int, start: int = 0) -> Trim:
    """Return the trim telling a part of the corrections from ``start`` on in so many sentences."""

    def cut(suspect: Suspect) -> Suspect:
        action = suspect.correction
        if action is None:
            return suspect
        text: dict[str, Any] = {part: _cut(getattr(action, part), keep)}
        return replace(suspect, correction=replace(action, **text))

    def trim(note: Note) -> Note:
        suspects = (*note.suspects[:start], *(cut(one) for one in note.suspects[start:]))
        whole = [
            (
                _of(part, old.correction),
                getattr(old.correction, part),
                getattr(new.correction, part),
            )
            for old, new in zip(note.suspects, suspects, strict=True)
            if old.correction is not None
        ]
        return _moved(note, whole, suspects=suspects)

    return trim


def texts_told(part: str, about: str, keep: int) -> Trim:
    """Return the trim that tells each of some texts of the note in so many sentences."""

    def trim(note: Note) -> Note:
        texts = getattr(note, part)
        cut = tuple(_cut(text, keep) for text in texts)
        return _moved(
            note, [(about, *pair) for pair in zip(texts, cut, strict=True)], **{part: cut}
        )

    return trim


def mechanism_told(keep: int) -> Trim:
    """Return the trim that tells in so many sentences how the fault comes about."""

    def trim(note: Note) -> Note:
        suspects = tuple(replace(s, how_it_comes=s.how_it_comes[:keep]) for s in note.suspects)
        whole = [
            ("How it comes about", " ".join(old.how_it_comes), " ".join(new.how_it_comes))
            for old, new in zip(note.suspects, suspects, strict=True)
        ]
        return _moved(note, whole, suspects=suspects)

    return trim


def listed(part: str, about: str, keep: int) -> Trim:
    """Return the trim that lists only so many findings of each suspect."""

    def trim(note: Note) -> Note:
        suspects = tuple(replace(s, **{part: getattr(s, part)[:keep]}) for s in note.suspects)
        whole = [
            (f"{about} ({one.name})", "; ".join(getattr(one, part)), "; ".join(getattr(new, part)))
            for one, new in zip(note.suspects, suspects, strict=True)
        ]
        return _moved(note, whole, suspects=suspects)

    return trim


def _of(part: str, action: Correction | None) -> str:
    words = {"how_much": "how much", "what": "what to do", "watch": "watch", "verify": "verify"}
    return _head(f"{action.name if action else ''}, {words[part]}")


def _head(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}".replace(": ", ", ")


TRIMS: tuple[Trim, ...] = (
    steps_told(1),
    corrections_told("watch", 1, start=1),
    corrections_told("what", 1, start=1),
    texts_told("contain", "Contain it", 2),
    mechanism_told(1),
    corrections_told("how_much", 2),
    corrections_told("watch", 1),
    corrections_told("what", 2),
    texts_told("cautions", "Take care", 2),
    corrections_told("verify", 1),
    listed("besides", "Also amiss", 1),
    listed("proved_by", "Borne out by", 2),
    texts_told("contain", "Contain it", 1),
    corrections_told("watch", 0),
    texts_told("cautions", "Take care", 1),
    corrections_told("how_much", 1),
    corrections_told("what", 1),
    steps_told(0),
)
"""What is cut, in this order, until the page fits."""
