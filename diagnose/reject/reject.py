"""One reject as data: what it is, and what was seen, checked and measured, in order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

LOOK, CHECK, MEASUREMENT, CALLED, UNSURE = "look", "check", "measurement", "called", "unsure"
RULED_OUT = "ruled out"
SURE, LIKELY = 0.71, 0.25
"""Probabilities from which what was heard in words is taken down, and is put to the person."""


@dataclass(frozen=True, slots=True)
class Found:
    """One thing found.

    ``kind``: ``look``, ``check``, ``measurement``, ``called`` (a defect named by the person),
    ``unsure`` or ``ruled out`` (answers of a look that are not so, parted by spaces). ``id``: the
    entry in the rule base (for ``called`` the defect). ``answer``: the answer's id.
    ``readings``: values in the measurement's own unit; ``age``: hours between the sample and the
    pouring. ``said``: the words that the person used, if any. ``chances``: for what was only heard
    in words, answer -> how likely it is meant, the likeliest (``answer``) first;
    ``contrary``: some words say one answer and others another.
    """

    kind: str
    id: str
    answer: str = ""
    readings: tuple[float, ...] = ()
    said: str = ""
    age: float = 0.0
    chances: tuple[tuple[str, float], ...] = ()
    contrary: bool = False

    @property
    def chance(self) -> float:
        """How likely this is what was found: 1 unless it was only heard in words."""
        return self.chances[0][1] if self.chances else 1.0


@dataclass(frozen=True, slots=True)
class Hearing:
    """One thing that words were heard to say, with the probability that they mean it.

    ``kind``: ``look``, ``check``, ``called`` or ``ruled out``, as of ``Found``; ``words``: the part
    of the ``phrase`` that says it.
    """

    kind: str
    id: str
    answer: str
    probability: float
    words: str
    phrase: str

    @property
    def entry(self) -> tuple[str, str]:
        """Which question it answers; all names of faults answer the same one."""
        return (CALLED, "") if self.kind == CALLED else (LOOK, self.id)


@dataclass(frozen=True, slots=True)
class Reject:
    """A reject being worked. Every change gives a new one; the old one stays as it was.

    ``section``: ruling section in mm, or None where it is not known. ``found``: in the order in
    which it came. ``heard``: what was read from words; it gives way to what was answered, and is
    never thrown out by it. ``not_understood``: phrases, or parts of them, that meant nothing to us.
    ``other_readings``: name and text of readings that the book does not know.
    """

    name: str = ""
    metal: str = "grey iron"
    process: str = "green sand"
    section: float | None = None
    found: tuple[Found, ...] = ()
    heard: tuple[Hearing, ...] = ()
    not_understood: tuple[str, ...] = field(default=())
    other_readings: tuple[tuple[str, str], ...] = ()

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
                answers = dict.fromkeys((*known.answer.split(), *found.answer.split()))
                said = dict.fromkeys(text for text in (known.said, found.said) if text)
                found = replace(found, answer=" ".join(answers), said="; ".join(said))
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
        told = [found for group in groups.values() if (found := _found_of(group)).chance >= LIKELY]
        said = {found.id for found in told if found.kind != RULED_OUT}
        needed = (found for found in told if found.kind != RULED_OUT or found.id not in said)
        return (*self.found, *needed)

    def about(self, entry: str) -> Found | None:
        """Return what was found about ``entry``, or None."""
        return next((f for f in self.found if f.id == entry), None)

    def finding(self, entry: str) -> Found | None:
        """Return what was found about ``entry``, or else heard of it, or None."""
        return next((f for f in self.findings if f.id == entry), None)


def _found_of(hearings: list[Hearing]) -> Found:
    """Return several hearings on one question as one finding."""
    chances: dict[str, float] = {}
    for h in hearings:
        said = h.id if h.kind == CALLED else h.answer
        chances[said] = max(chances.get(said, 0.0), h.probability)
    whole = sum(chances.values())
    scale = 1.0 if hearings[0].kind == RULED_OUT else min(1.0, 1.0 / whole)
    ranked = sorted(((a, p * scale) for a, p in chances.items()), key=lambda pair: -pair[1])
    best = ranked[0][0]
    first = {h.phrase: h.answer for h in sorted(hearings, key=lambda h: h.probability)}
    contrary = hearings[0].kind != RULED_OUT and len(set(first.values())) > 1
    contrary = contrary and sum(p >= LIKELY for _, p in ranked) > 1
    words = "; ".join(dict.fromkeys(h.words for h in hearings))
    if hearings[0].kind == CALLED:
        return Found(CALLED, best, said=words, chances=tuple(ranked))
    answer = " ".join(chances) if hearings[0].kind == RULED_OUT else best
    kind, entry = hearings[0].kind, hearings[0].id
    return Found(kind, entry, answer, said=words, chances=tuple(ranked), contrary=contrary)


def _plain(words: str) -> str:
    return " ".join(words.lower().split()).strip(" .,;:!?")


def same_thing(one: Found, other: Found) -> bool:
    """Tell whether two findings answer the same question, so that the later one replaces it."""
    if one.kind == CALLED or other.kind == CALLED:
        return one.kind == other.kind
    return one.id == other.id


def excludes(one: Found, other: Found) -> bool:
    """Tell whether two findings on the same thing cannot both be true.

    Two findings that are alike do not exclude each other.
    """
    if not same_thing(one, other):
        return False
    if RULED_OUT not in (one.kind, other.kind):
        return replace(one, said="") != replace(other, said="")
    if one.kind == other.kind:
        return False
    given, ruled_out = (one, other) if other.kind == RULED_OUT else (other, one)
    return given.kind != LOOK or given.answer in ruled_out.answer.split()


def one_line(text: str) -> str:
    r"""Return what a person wrote on one line, without characters that steer a screen or printer.

    >>> one_line("cover\n\x1b[31m 7")
    'cover [31m 7'
    """
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
