"""One reject as data: what it is, and what was seen, checked and measured, in order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

LOOK, CHECK, MEASUREMENT, CALLED, UNSURE = "look", "check", "measurement", "called", "unsure"
RULED_OUT = "ruled out"


@dataclass(frozen=True, slots=True)
class Found:
    """One thing found.

    ``kind``: ``look``, ``check``, ``measurement``, ``called`` (a defect named by the person),
    ``unsure`` or ``ruled out`` (answers of a look that are not so, parted by spaces). ``id``: the
    entry in the rule base (for ``called`` the defect). ``answer``: the answer's id.
    ``readings``: values in the measurement's own unit; ``age``: hours between the sample and the
    pouring. ``said``: the words that the person used, if any.
    """

    kind: str
    id: str
    answer: str = ""
    readings: tuple[float, ...] = ()
    said: str = ""
    age: float = 0.0


@dataclass(frozen=True, slots=True)
class Reject:
    """A reject being worked. Every change gives a new one; the old one stays as it was.

    ``section``: ruling section in mm, or None where it is not known. ``found``: in the order in
    which it came. ``not_understood``: phrases, or parts of them, that meant nothing to us.
    """

    name: str = ""
    metal: str = "grey iron"
    process: str = "green sand"
    section: float | None = None
    found: tuple[Found, ...] = ()
    not_understood: tuple[str, ...] = field(default=())

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

    def without(self, entry: str) -> Reject:
        """Return the reject with nothing said about ``entry``."""
        return replace(self, found=tuple(f for f in self.found if f.id != entry))

    def about(self, entry: str) -> Found | None:
        """Return what was found about ``entry``, or None."""
        return next((f for f in self.found if f.id == entry), None)


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
