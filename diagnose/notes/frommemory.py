"""Where a figure of an order comes from memory: said on the second page, not in the order."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from diagnose.notes.note import Correction, Note, Step, Suspect

_MARK = re.compile(r"\s*\([^()]*\bfrom memory\)")
_SAID = "from memory"
_WHOLE = re.compile(rf"(?:(?<=[.!?] )|^)[^.!?]*\b{_SAID}\b[^.!?]*[.!?](?:\s+|$)")
"""A sentence that says nothing else."""
_ENDS = re.compile(r"(?<=[.!?;:])\s+")


def memory_apart(note: Note) -> Note:
    """Return a note whose orders do not break off to say what is from memory; it is told apart."""
    told: list[str] = []

    def plain(text: str, about: str = "") -> str:
        for part in _ENDS.split(text):
            if _SAID in part:
                clean = _MARK.sub("", part).removeprefix("Mind: ").strip(" ;:.")
                told.append(f"{about}: {clean}" if about else clean)
        return _WHOLE.sub("", _MARK.sub("", text)).strip()

    def step(one: Step) -> Step:
        return replace(one, ask=plain(one.ask, one.name), how=plain(one.how, one.name))

    def correction(one: Correction) -> Correction:
        texts: dict[str, Any] = {key: plain(getattr(one, key), one.name) for key in _OF_CORRECTION}
        return replace(one, **texts)

    def suspect(one: Suspect) -> Suspect:
        return replace(
            one,
            step=one.step and step(one.step),
            correction=one.correction and correction(one.correction),
        )

    plan = tuple(replace(one, step=step(one.step)) for one in note.plan)
    clean = replace(
        note,
        plan=plan,
        suspects=tuple(suspect(one) for one in note.suspects),
        find_out=tuple(step(one) for one in note.find_out),
        contain=tuple(plain(text) for text in note.contain),
        cautions=tuple(plain(text) for text in note.cautions),
    )
    return replace(clean, from_memory=tuple(dict.fromkeys(told)))


_OF_CORRECTION = ("what", "how_much", "watch", "verify")
