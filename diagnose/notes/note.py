"""The corrective-action note as frozen data: what it says, with no word on how it is printed."""

from __future__ import annotations

from dataclasses import dataclass

from diagnose.basics.duration import minutes_in_words
from diagnose.rulebase.panels import Panel

LIKELY, CONTEST, OPEN = "likely", "contest", "open"
"""One cause stands out; one to three contend; nothing reaches a fair probability."""


@dataclass(frozen=True, slots=True)
class Step:
    """Something to find out before anything is changed.

    ``bears_out``: the outcome that speaks for the cause, in words; empty where any outcome helps.
    """

    name: str
    ask: str
    how: str
    minutes: float
    bears_out: str = ""

    @property
    def time(self) -> str:
        """How long it takes, in words."""
        return minutes_in_words(self.minutes)


@dataclass(frozen=True, slots=True)
class PlanStep:
    """A step in its place in the plan.

    ``proves``: names of the causes that it proves by its outcome; none where any outcome helps.
    ``settles``: what it is expected to settle, in words; empty where that was not worked out.
    """

    step: Step
    proves: tuple[str, ...] = ()
    settles: str = ""


@dataclass(frozen=True, slots=True)
class Correction:
    """One action for one cause. ``besides``: names of the other actions that cure it too."""

    name: str
    what: str
    how_much: str
    who: str
    watch: str
    verify: str
    besides: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Suspect:
    """A cause that the note deals with.

    ``how_it_comes``: one sentence a link, from the cause to the fault. ``proved_by``: findings
    that already show the cause itself. ``against``: findings that speak against it all the same.
    ``besides``: findings that are signs of something else, which may be wrong as well.
    ``step``: what would prove it best; None where nothing is left that would.
    """

    name: str
    area: str
    percent: str
    how_it_comes: tuple[str, ...] = ()
    proved_by: tuple[str, ...] = ()
    against: tuple[str, ...] = ()
    besides: tuple[str, ...] = ()
    step: Step | None = None
    correction: Correction | None = None


@dataclass(frozen=True, slots=True)
class Other:
    """A cause that stays possible, and the cheapest finding that would tell it apart."""

    name: str
    percent: str
    apart: str = ""


@dataclass(frozen=True, slots=True)
class Findings:
    """What was answered and measured and speaks equally strongly for or against a suspect.

    ``weighs``: how, in words; empty where there is no suspect.
    """

    texts: tuple[str, ...]
    weighs: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """Everything one note says, on a first page that can be acted on and a second that says why.

    ``kind``: ``likely`` (one suspect, to be proved and corrected), ``contest`` (up to
    three suspects, each to be corrected only once proved) or ``open`` (no suspect, no correction).
    ``drawings``: where the fault sits and what it is like.
    ``verdict``: which cause, and how sure. ``find_out``: the next questions of an open note.
    ``job``: what the ticket says, in one sentence. ``plan``: what to do now, in order, and
    ``plan_says``: what is expected of it and when it is done. ``castings``: with how many castings
    to verify. ``proved``: what is proved, each with by what; where it is empty, ``proved_by`` of
    the suspects stands for it. ``acting``: what was out of order and acts as well, the weightiest
    first. ``explained``: the first causes as a colleague would tell them. ``from_memory``: figures
    of the first page that have no source. ``in_full``: what was cut on the first page.
    """

    reject: str
    about: str
    kind: str
    fault: str
    drawings: tuple[Panel, ...]
    verdict: str
    contain: tuple[str, ...]
    suspects: tuple[Suspect, ...]
    find_out: tuple[Step, ...]
    cautions: tuple[str, ...]
    findings: tuple[Findings, ...]
    unsure: tuple[str, ...]
    not_understood: tuple[str, ...]
    others: tuple[Other, ...]
    warnings: tuple[str, ...]
    figures: str
    sources: tuple[str, ...]
    job: str = ""
    plan: tuple[PlanStep, ...] = ()
    plan_says: str = ""
    castings: str = ""
    proved: tuple[str, ...] = ()
    acting: tuple[str, ...] = ()
    explained: tuple[str, ...] = ()
    from_memory: tuple[str, ...] = ()
    in_full: tuple[str, ...] = ()

    @property
    def minutes(self) -> str:
        """How long the steps of the plan take together, in words."""
        return minutes_in_words(sum(one.step.minutes for one in self.plan))
