"""One thing found on a reject: seen, ruled out, checked, called, measured, or not to be told."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import ClassVar, Final, Literal

LOOK: Final = "look"
RULED_OUT: Final = "ruled out"
CHECK: Final = "check"
CALLED: Final = "called"
MEASUREMENT: Final = "measurement"
UNSURE: Final = "unsure"
SURE, LIKELY = 0.71, 0.25
"""Probabilities from which what was heard in words is taken down, and is put to the person."""

Chances = tuple[tuple[str, float], ...]
"""For what was only heard in words: answer -> how likely it is meant, the likeliest first."""


class Hearable:
    """What may have been heard in words only."""

    __slots__ = ()
    chances: Chances

    @property
    def chance(self) -> float:
        """How likely this is what was found: 1 unless it was only heard in words."""
        return self.chances[0][1] if self.chances else 1.0


@dataclass(frozen=True, slots=True)
class Looked(Hearable):
    """A look was answered.

    ``id`` and ``answer``: as the rule base calls them. ``said``: the words that the person used,
    if any. ``contrary``: some words say one answer and others another.
    """

    id: str
    answer: str
    said: str = ""
    chances: Chances = ()
    contrary: bool = False
    kind: Literal["look"] = field(default=LOOK, init=False, repr=False)


@dataclass(frozen=True, slots=True)
class RuledOut(Hearable):
    """Answers of a look are not so. ``chances``: for what was only heard in words."""

    id: str
    answers: tuple[str, ...]
    said: str = ""
    chances: Chances = ()
    kind: Literal["ruled out"] = field(default=RULED_OUT, init=False, repr=False)
    contrary: ClassVar[bool] = False


@dataclass(frozen=True, slots=True)
class Checked(Hearable):
    """A check was made; the fields are those of ``Looked``."""

    id: str
    answer: str
    said: str = ""
    chances: Chances = ()
    contrary: bool = False
    kind: Literal["check"] = field(default=CHECK, init=False, repr=False)


@dataclass(frozen=True, slots=True)
class Called(Hearable):
    """Somebody called the fault by a defect's name; ``id``: the defect."""

    id: str
    said: str = ""
    chances: Chances = ()
    contrary: bool = False
    kind: Literal["called"] = field(default=CALLED, init=False, repr=False)


@dataclass(frozen=True, slots=True)
class Measured:
    """Something was measured.

    ``readings``: values in the measurement's own unit. ``said``: as they were typed. ``age``: hours
    between the sample and the pouring.
    """

    id: str
    readings: tuple[float, ...]
    said: str = ""
    age: float = 0.0
    kind: Literal["measurement"] = field(default=MEASUREMENT, init=False, repr=False)
    chances: ClassVar[Chances] = ()
    chance: ClassVar[float] = 1.0
    contrary: ClassVar[bool] = False


@dataclass(frozen=True, slots=True)
class Unsure:
    """A question was looked at and cannot be told: evidence of nothing."""

    id: str
    kind: Literal["unsure"] = field(default=UNSURE, init=False, repr=False)
    said: ClassVar[str] = ""
    chances: ClassVar[Chances] = ()
    chance: ClassVar[float] = 1.0
    contrary: ClassVar[bool] = False


Found = Looked | RuledOut | Checked | Called | Measured | Unsure


@dataclass(frozen=True, slots=True)
class Hearing:
    """One thing that words were heard to say, with the probability that they mean it.

    ``kind``: ``look``, ``check``, ``called`` or ``ruled out``; ``words``: the part of the
    ``phrase`` that says it.
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


def without_words(found: Found) -> Found:
    """Return a finding without the words in which it was said."""
    return found if found.kind == UNSURE else replace(found, said="")


def found_in(hearings: list[Hearing]) -> Found:
    """Return several hearings on one question as one finding."""
    kind, entry = hearings[0].kind, hearings[0].id
    words = "; ".join(dict.fromkeys(h.words for h in hearings))
    ranked = _ranked(hearings)
    if kind == RULED_OUT:
        answers = tuple(dict.fromkeys(h.answer for h in hearings))
        return RuledOut(entry, answers, words, ranked)
    first = {h.phrase: h.answer for h in sorted(hearings, key=lambda h: h.probability)}
    contrary = len(set(first.values())) > 1 and sum(p >= LIKELY for _, p in ranked) > 1
    best = ranked[0][0]
    if kind == CALLED:
        return Called(best, words, ranked)
    make = Checked if kind == CHECK else Looked
    return make(entry, best, words, ranked, contrary)


def _ranked(hearings: list[Hearing]) -> Chances:
    """Return what is meant by hearings on one question and how likely, the likeliest first."""
    chances: dict[str, float] = {}
    for h in hearings:
        said = h.id if h.kind == CALLED else h.answer
        chances[said] = max(chances.get(said, 0.0), h.probability)
    whole = sum(chances.values())
    scale = 1.0 if hearings[0].kind == RULED_OUT else min(1.0, 1.0 / whole)
    return tuple(sorted(((a, p * scale) for a, p in chances.items()), key=lambda pair: -pair[1]))


def same_thing(one: Found, other: Found) -> bool:
    """Tell whether two findings answer the same question, so that the later one replaces it."""
    if one.kind == CALLED or other.kind == CALLED:
        return one.kind == other.kind
    return one.id == other.id


def excludes(one: Found, other: Found) -> bool:
    """Tell whether two findings on the same thing cannot both be true.

    Two findings that are alike do not exclude each other.
    """
    if not same_thing(one, other) or one.kind == other.kind == RULED_OUT:
        return False
    if one.kind == RULED_OUT:
        return other.kind != LOOK or other.answer in one.answers
    if other.kind == RULED_OUT:
        return one.kind != LOOK or one.answer in other.answers
    return without_words(one) != without_words(other)
