"""One reject as data: what it is, and what was seen, checked and measured, in order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from diagnose.reject.found import (
    CALLED,
    LIKELY,
    LOOK,
    RULED_OUT,
    Found,
    Hearing,
    RuledOut,
    excludes,
    found_in,
    same_thing,
)
from diagnose.reject.one_line import one_line as one_line
from diagnose.reject.ticket import Ticket


@dataclass(frozen=True, slots=True)
class Reject:
    """A reject being worked. Every change gives a new one; the old one stays as it was.

    ``section``: ruling section in mm, or None where it is not known. ``found``: in the order in
    which it came. ``heard``: what was read from words; it gives way to what was answered, and is
    never thrown out by it. ``not_understood``: phrases, or parts of them, that meant nothing to us.
    ``other_readings``: name and text of readings that the book does not know. ``ticket``: what
    goes with it and says nothing of its cause.
    """

    name: str = ""
    metal: str = "grey iron"
    process: str = "green sand"
    section: float | None = None
    found: tuple[Found, ...] = ()
    heard: tuple[Hearing, ...] = ()
    not_understood: tuple[str, ...] = field(default=())
    other_readings: tuple[tuple[str, str], ...] = ()
    ticket: Ticket = field(default=Ticket())

    def with_found(self, found: Found) -> Reject:
        """Return the reject with one more finding; an earlier one on the same thing gives way.

        Ruling an answer out adds nothing where another answer was given, and adds to what was
        ruled out before.
        """
        known = self.about(found.id)
        if found.kind == RULED_OUT and known is not None:
            if known.kind == LOOK and not excludes(known, found):
                return self
            if known.kind == RULED_OUT:
                answers = dict.fromkeys((*known.answers, *found.answers))
                said = dict.fromkeys(text for text in (known.said, found.said) if text)
                found = RuledOut(found.id, tuple(answers), "; ".join(said))
        kept = tuple(f for f in self.found if not same_thing(f, found))
        return replace(self, found=(*kept, found))

    def with_phrases(self, phrases: Iterable[str]) -> Reject:
        """Return the reject with phrases that were not understood, each kept once."""
        return replace(self, not_understood=tuple(dict.fromkeys((*self.not_understood, *phrases))))

    def with_heard(self, hearings: Iterable[Hearing]) -> Reject:
        """Return the reject with more that was heard; what the same words said before once only."""
        known = {(h.kind, h.id, h.answer, _plain(h.words)) for h in self.heard}
        new: dict[tuple[str, str, str, str], Hearing] = {}
        for h in hearings:
            key = (h.kind, h.id, h.answer, _plain(h.words))
            if key not in known:
                new.setdefault(key, h)
        return replace(self, heard=(*self.heard, *new.values()))

    def with_reading(self, name: str, text: str) -> Reject:
        """Return the reject with a reading that the book does not know; a later one replaces it."""
        kept = tuple(pair for pair in self.other_readings if pair[0] != name)
        return replace(self, other_readings=(*kept, (name, text)))

    def without(self, entry: str) -> Reject:
        """Return the reject with nothing said about ``entry``."""
        return replace(
            self,
            found=tuple(f for f in self.found if f.id != entry),
            heard=self._heard_without(entry),
        )

    def without_heard(self, entry: str) -> Reject:
        """Return the reject with nothing heard about ``entry``; what was answered stays."""
        return replace(self, heard=self._heard_without(entry))

    def _heard_without(self, entry: str) -> tuple[Hearing, ...]:
        """Return what was heard of other questions; all names of faults answer one."""
        gone = {h.entry for h in self.heard if h.id == entry}
        return tuple(h for h in self.heard if h.entry not in gone)

    @property
    def findings(self) -> tuple[Found, ...]:
        """Everything found, then what was likely heard of questions that nobody answered.

        Where words say one thing and others another, the answers stand in one finding. That an
        answer is not so goes without saying where another one was heard.
        """
        answered = {f.id for f in self.found if f.kind != RULED_OUT}
        named = any(f.kind == CALLED for f in self.found)
        groups: dict[tuple[str, str, bool], list[Hearing]] = {}
        for h in self.heard:
            if h.id not in answered and not (named and h.kind == CALLED):
                groups.setdefault((*h.entry, h.kind == RULED_OUT), []).append(h)
        told = [found for group in groups.values() if (found := found_in(group)).chance >= LIKELY]
        said = {found.id for found in told if found.kind != RULED_OUT}
        needed = (found for found in told if found.kind != RULED_OUT or found.id not in said)
        return (*self.found, *needed)

    def about(self, entry: str) -> Found | None:
        """Return what was found about ``entry``, or None."""
        return next((f for f in self.found if f.id == entry), None)

    def finding(self, entry: str) -> Found | None:
        """Return what was found about ``entry``, or else heard of it, or None."""
        return next((f for f in self.findings if f.id == entry), None)


def _plain(words: str) -> str:
    return " ".join(words.lower().split()).strip(" .,;:!?")
