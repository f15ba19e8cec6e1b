"""Why the causes stand as they do, and what would move them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from diagnose.basics.quantity import unit_named, unit_shown
from diagnose.engine.cliquetree import Floats
from diagnose.engine.explain import Pull
from diagnose.engine.explain import pushes as engine_pushes
from diagnose.engine.posterior import Evidence, by_root
from diagnose.engine.stability import (
    Kept,
    first_roots,
    shaken,
    shaken_figures,
    shaken_findings,
    shaken_looks,
)
from diagnose.reasoning.asking import Prospect, cause_name, prospects
from diagnose.reasoning.evidence import evidence_of, excluding
from diagnose.reasoning.ranking import likeliest
from diagnose.reasoning.readings import CLEARLY, Reading, reading_of, readings_of
from diagnose.reasoning.setup import CALLED, RUNS, SEED, Desk, account_log_priors
from diagnose.reasoning.sighted import shown_by
from diagnose.reject.found import CALLED as NAMED
from diagnose.reject.found import (
    CHECK,
    LIKELY,
    LOOK,
    MEASUREMENT,
    RULED_OUT,
    SURE,
    Found,
    Measured,
)
from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Figure

LIKELY_ENOUGH = 0.02
"""An answer less probable than this is not offered as one that would change the verdict."""
ODD = 0.06
"""A finding less probable than this beside all the others is reported as a contradiction."""
SLIGHTLY = 0.5
"""A weight of evidence of fewer decibans says next to nothing."""
MOST_BESIDES = 2
"""So many of the conditions that a finding is a sign of are named."""
LESS_THAN_USUAL = 0.5
"""What is rare with any reject contradicts the rest only where the rest makes it rarer still."""
CLEAR_FAULT = 0.5
"""Before one fault is as likely as all others, no reading can be said to explain little of it."""
EXPLAINED = 0.1
"""A reading explains something, or a name is borne out, from this share of the responsibility."""
_NUMBERS = re.compile(r"(?<![A-Za-z])[\d.,;/\u2212\u2013+-]+|\b(?:and|to)\b")
_BEFORE_AGE = re.compile(r"\([^()]*\bold\)\s*$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Push:
    """How far one finding moves a cause. ``decibans``: signed weight of evidence.

    ``besides``: names of other conditions of which it is a sign, where it does not speak for this
    cause. It is not said to speak against it either: two things may be wrong at once.
    """

    entry: str
    kind: str
    text: str
    decibans: float
    words: str
    besides: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Change:
    """A finding that would put another cause first. ``answer``: its id, or a band's name."""

    question: str
    answer: str
    text: str
    leads_to: str
    minutes: float


@dataclass(frozen=True, slots=True)
class Stability:
    """How often the first answer stays first when every figure is shaken.

    ``share``: of ``runs``; ``runner_up``: the name of the cause that else comes first, or "".
    """

    share: float
    runs: int
    runner_up: str


def weight_in_words(decibans: float) -> str:
    """Say how strongly a weight of evidence speaks.

    >>> weight_in_words(12.0), weight_in_words(-1.5)
    ('speaks strongly for', 'speaks slightly against')
    """
    if abs(decibans) < SLIGHTLY:
        return "says next to nothing"
    direction = "for" if decibans > 0 else "against"
    return " ".join(filter(None, ("speaks", strength_in_words(decibans), direction)))


def strength_in_words(decibans: float) -> str:
    """Say how strong a weight of evidence is, whichever way it speaks; nothing where it is plain.

    >>> strength_in_words(12.0), strength_in_words(-1.5), strength_in_words(5.0)
    ('strongly', 'slightly', '')
    """
    steps = ((3.0, "slightly"), (7.0, ""), (15.0, "strongly"))
    return next((word for limit, word in steps if abs(decibans) < limit), "very strongly")


def found_text(desk: Desk, found: Found) -> str:
    """Put a finding into plain words; what was only heard with how likely that is meant."""
    text = _answer_text(desk, found)
    if not found.chances:
        return text
    if found.contrary:
        others = [answer for answer, chance in found.chances[1:] if chance >= LIKELY]
        said = " or ".join([text, *(_answer_only(desk, found.id, answer) for answer in others)])
        return f"{said} (both were said: which?)"
    if found.chance >= SURE:
        return text
    return f"{text} (if that is what is meant, {100 * found.chance:.0f} %)"


def _answer_only(desk: Desk, entry: str, answer: str) -> str:
    """Return an answer of a look or check, or the defect that somebody called it, in words."""
    if entry in desk.book.looks:
        return desk.book.looks[entry].answers[answer].say
    if entry in desk.book.checks:
        return desk.book.checks[entry].answers[answer]
    return desk.book.defects[answer].name


def _answer_text(desk: Desk, found: Found) -> str:
    book = desk.book
    if found.kind == LOOK:
        look = book.looks[found.id]
        return f"{look.name or look.ask}: {look.answers[found.answer].say}"
    if found.kind == RULED_OUT:
        look = book.looks[found.id]
        not_so = " or ".join(look.answers[answer].say for answer in found.answers)
        return f"{look.name or look.ask}: not {not_so}"
    if found.kind == CHECK:
        check = book.checks[found.id]
        return f"{check.name or check.ask}: {check.answers[found.answer]}"
    if found.kind == MEASUREMENT:
        return measured_text(desk, found)
    if found.kind == NAMED:
        return f"called it: {book.defects[found.id].name}"
    return f"not sure: {entry_title(desk, found.id)}"


def measured_text(desk: Desk, found: Measured) -> str:
    """Put a reading into words as it was typed; in another unit, with what that is in ours."""
    reading = reading_of(desk, found)
    typed = _BEFORE_AGE.sub("", found.said).strip()
    unit = _NUMBERS.sub("", typed).strip()
    if not unit or unit_named(unit) == reading.unit:
        return reading_text(reading)
    values = ", ".join(f"{value:.4g}" for value in reading.values)
    return f"{reading.name}: {typed} ({values} {reading.unit})"


def reading_text(reading: Reading) -> str:
    """Put a reading into plain words; four figures are enough for one that was worked out."""
    form = ".4g" if reading.working else "g"
    values = ", ".join(f"{value:{form}}" for value in reading.values)
    worked = " (worked out)" if reading.working else ""
    return f"{reading.name}: {values} {unit_shown(reading.unit)}".rstrip() + worked


def entry_title(desk: Desk, entry: str) -> str:
    """Return the short name of a look, check or measurement, or its question."""
    book = desk.book
    if entry in book.looks:
        return book.looks[entry].name or book.looks[entry].ask
    if entry in book.checks:
        return book.checks[entry].name or book.checks[entry].ask
    return book.measurements[entry].name if entry in book.measurements else entry


class Reasons:
    """Everything that explains one reject under one body of evidence; worked out when asked."""

    def __init__(
        self, desk: Desk, reject: Reject, evidence: Evidence, probabilities: Floats
    ) -> None:
        """``probabilities``: of every account, given the evidence."""
        self.desk = desk
        self.reject = reject
        self.evidence = evidence
        self.probabilities = probabilities

    @cached_property
    def _telling(self) -> list[Found]:
        """What was found and bears on this job."""
        looks, findings = self.desk.looks, self.desk.findings
        known = {
            LOOK: looks,
            RULED_OUT: looks,
            CHECK: findings,
            MEASUREMENT: {*findings, *looks, *self.desk.book.taken_by_sums()},
        }
        return [f for f in self.reject.findings if f.kind == NAMED or f.id in known.get(f.kind, ())]

    @cached_property
    def _pushes(self) -> list[Pull]:
        """What each of them does, with all that it implies about other looks."""
        rests = (evidence_of(self.desk, self.reject.without(f.id)) for f in self._telling)
        return engine_pushes(self.desk.model, self.evidence, rests)

    @cached_property
    def _surprises(self) -> list[Pull]:
        """What each of them does, given what it implies: that its question makes sense."""
        rests = (self._without(found) for found in self._telling)
        return engine_pushes(self.desk.model, self.evidence, rests)

    def _borne_out_less(self, found: Found, expected: float) -> bool:
        """Tell whether the rest speaks against a finding, which may be rare of itself.

        A name that somebody gave the fault is borne out where that fault is likely after all.
        """
        if found.kind == NAMED:
            place = list(self.desk.book.defects).index(found.id)
            return bool(self._of_defects[place] < EXPLAINED)
        return expected < LESS_THAN_USUAL * self._usually(found)

    def _usually(self, found: Found) -> float:
        """Return how often such a finding is to be expected where nothing else was found."""
        alone = evidence_of(self.desk, replace(self.reject, found=(found,), heard=()))
        if found.kind == RULED_OUT:
            rest = evidence_of(self.desk, replace(self.reject, found=(), heard=()))
        else:
            rest = self._without(found, alone)
        (push,) = engine_pushes(self.desk.model, alone, [rest])
        return push.expected

    def _without(self, found: Found, evidence: Evidence | None = None) -> Evidence:
        if found.kind in (MEASUREMENT, RULED_OUT):
            return evidence_of(self.desk, self.reject.without(found.id))
        whole = self.evidence if evidence is None else evidence
        looks, findings = dict(whole.looks), dict(whole.findings)
        graded = dict(whole.graded)
        if found.kind in (LOOK, NAMED):
            number = self.desk.looks[found.id if found.kind == LOOK else CALLED]
            looks.pop(number, None)
            graded.pop(number, None)
        else:
            findings.pop(self.desk.findings[found.id], None)
        return Evidence(looks, findings, graded)

    def pushes(self, cause: str) -> list[Push]:
        """Return what every finding does to a cause, the biggest first."""
        row = self.desk.roots.index(cause)
        told = [
            self._push(found, float(push.decibans[row]), cause)
            for found, push in zip(self._telling, self._pushes, strict=True)
        ]
        return sorted(told, key=lambda push: -abs(push.decibans))

    def _push(self, found: Found, decibans: float, cause: str) -> Push:
        words = weight_in_words(decibans)
        besides = self._signs_besides(found, cause, decibans) if decibans < SLIGHTLY else ()
        if besides and decibans <= -SLIGHTLY:
            words = f"points also to {' or '.join(besides)}"
        return Push(found.id, found.kind, found_text(self.desk, found), decibans, words, besides)

    def _signs_besides(self, found: Found, cause: str, decibans: float) -> tuple[str, ...]:
        """Return the names of what a bad answer or reading is most a sign of, besides a cause.

        What lies on a way from the cause to a fault is no other thing than the cause; a sign of
        that as well is named only where something else explains it so well that it tells against.
        """
        book = self.desk.book
        signs = {n: f for n, f in self._signs(found).items() if n in self.desk.conditions}
        if not signs:  # most findings; to go through all accounts takes long
            return ()
        mine = [account.path for account in self.desk.accounts if account.root == cause]
        ways = {name for path in mine for name in path}
        if ways & signs.keys() and decibans > -SLIGHTLY:
            return ()
        here = sorted(signs.keys() - ways, key=lambda name: (-book.figure(signs[name]), name))
        return tuple(book.conditions[name].name for name in here[:MOST_BESIDES])

    def _signs(self, found: Found) -> Mapping[str, Figure]:
        """Return what a bad answer, or a reading clearly out of its window, is a sign of."""
        book = self.desk.book
        if found.kind == CHECK and found.answer == book.checks[found.id].bad:
            return book.checks[found.id].reveals if found.chance >= SURE else {}
        if found.kind == MEASUREMENT:
            below, _, above = reading_of(self.desk, found).chances
            reading = book.measurements[found.id]
            if max(below, above) >= CLEARLY:
                return reading.low_speaks_for if below > above else reading.high_speaks_for
        return {}

    def contradictions(self) -> list[str]:
        """Return the findings that exclude each other or hardly go with all the others."""
        excluded = [
            f"“{found_text(self.desk, earlier)}” and “{found_text(self.desk, later)}” exclude "
            "each other: one of them must be wrong."
            for earlier, later in excluding(self.desk.book, self.reject)
        ]
        excluded += [
            f"{found_text(self.desk, found)} Said in “{found.said}”."
            for found in self.reject.findings
            if found.contrary
        ]
        excluded += [
            f"“{h.words}” was heard as “{_answer_only(self.desk, h.id, h.answer)}”, against the "
            f"answer given: {found_text(self.desk, given)}. The answer counts."
            for h in self.reject.heard
            if h.kind in (LOOK, CHECK)
            and h.probability >= SURE
            and (given := self.reject.about(h.id)) is not None
            and (given.kind == LOOK or given.kind == CHECK)
            and given.kind == h.kind
            and given.answer != h.answer
        ]
        odd = [
            (push.expected, found_text(self.desk, found))
            for found, push in zip(self._telling, self._surprises, strict=True)
            if found.kind != MEASUREMENT
            and not found.chances
            and push.expected < ODD
            and self._borne_out_less(found, push.expected)
        ]
        return excluded + [
            f"“{text}” hardly goes with the rest of what was found "
            f"(expected in {100 * expected:.1f} % of such cases): look again."
            for expected, text in sorted(odd)
            if len(self.reject.findings) > 1
        ]

    def unexplained(self) -> list[str]:
        """Return the readings out of their window that explain nothing here."""
        told: list[str] = []
        if self._of_defects.max(initial=0.0) < CLEAR_FAULT:
            return told
        for reading in readings_of(self.desk, self.reject):
            if max(reading.chances[0], reading.chances[2]) < CLEARLY:
                continue
            if self._explains(reading) < EXPLAINED:
                told.append(
                    f"{reading_text(reading)} is {reading.words} but explains little of "
                    "this reject. Put it right, but do not stop looking."
                )
        return told

    @cached_property
    def _of_defects(self) -> Floats:
        """The probability of every defect, in the order of the book."""
        count = len(self.desk.book.defects)
        of_account = self.desk.model.network.defect[:-1]
        return np.asarray(
            np.bincount(of_account, self.probabilities[:-1], minlength=count), np.float64
        )

    def _explains(self, reading: Reading) -> float:
        """Return how much of the responsibility goes with what a reading speaks for."""
        entry = self.desk.book.measurements[reading.id]
        if reading.id in self.desk.looks:
            shown = shown_by(self.desk, reading.id, reading.values)
            numbers = [k for k, name in enumerate(self.desk.book.defects) if name in shown]
            named = np.isin(self.desk.model.network.defect[:-1], numbers)
            return float(self.probabilities[:-1][named].sum())
        side = entry.low_speaks_for if reading.chances[0] > 0.5 else entry.high_speaks_for
        return self._responsible(set(side))

    def _responsible(self, conditions: set[str]) -> float:
        """Return the probability that the responsible account runs through one of these."""
        numbers = [number for name, number in self.desk.conditions.items() if name in conditions]
        runs_through = np.isin(self.desk.accounts.paths, numbers).any(axis=1)
        return float(self.probabilities[:-1][runs_through].sum())

    @cached_property
    def prospects(self) -> list[Prospect]:
        """What every open question may show, the most telling a minute first."""
        return prospects(self.desk, self.reject, self.evidence, self.probabilities)

    @cached_property
    def first(self) -> int:
        """The place of the likeliest root condition."""
        return int(by_root(self.desk.model, self.probabilities).argmax())

    def would_change(self, limit: int = 3) -> list[Change]:
        """Return the cheapest findings that would put another cause first."""
        first = self.first
        found = []
        for prospect in self.prospects:
            for answer, row in zip(prospect.answers, prospect.joint, strict=True):
                if row.sum() >= LIKELY_ENOUGH and int(row.argmax()) != first:
                    found.append(self._change(prospect, answer, int(row.argmax())))
        return sorted(found, key=lambda change: change.minutes)[:limit]

    def _change(self, prospect: Prospect, answer: str, root: int) -> Change:
        book, name = self.desk.book, prospect.id
        if prospect.kind == LOOK:
            words = book.looks[name].answers[answer].say
        elif prospect.kind == CHECK:
            words = book.checks[name].answers[answer]
        elif name in self.desk.looks:
            words = book.measurements[name].bands[answer].say
        else:
            words = f"{answer} its window"
        text = f"{entry_title(self.desk, name)}: {words}"
        return Change(
            name, answer, text, cause_name(self.desk, self.desk.roots[root]), prospect.minutes
        )

    def mechanism(self, cause: str) -> list[str]:
        """Return, step by step, how a cause brings the fault about by its likeliest account."""
        best = likeliest(self.desk, self.probabilities, cause)
        return [] if best is None else [link.because for link in best.links]

    @cached_property
    def stability(self) -> Stability:
        """Shake every figure of the book and see how often the first cause stays first."""
        desk, model = self.desk, self.desk.model
        draw = Kept(SEED, desk.draws)
        figures = shaken_figures(model.figures, RUNS, draw, sorted(self.evidence.findings))
        ends = shaken(desk.strengths[len(model.network.links) :], RUNS, draw)
        strengths = np.concatenate([figures.strength, ends], axis=-1)
        none = desk.book.scale.none_of_these
        joint = account_log_priors(
            model.network, figures.leak, strengths, desk.accounts.links, desk.log_besides, none
        )
        joint = joint + shaken_findings(model.network, figures, self.evidence)
        likelihoods: dict[int, Sequence[float]] = {
            look: tuple(float(k in answers) for k in range(len(desk.answers[look])))
            for look, answers in self.evidence.looks.items()
        }
        likelihoods |= self.evidence.graded
        tables = [
            (model.looks[look], likelihood) for look, likelihood in sorted(likelihoods.items())
        ]
        joint = joint + shaken_looks(tables, RUNS, draw)
        first = first_roots(joint, model.root_of_account)
        kept = first == self.first
        runner_up = ""
        if not kept.all():
            runner_up = cause_name(desk, desk.roots[int(np.bincount(first[~kept]).argmax())])
        return Stability(float(kept.mean()), RUNS, runner_up)
