"""Which question to put next, why, and when to stop."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from diagnose.engine.ask import (
    Grouping,
    finding_tables,
    information,
    look_tables,
)
from diagnose.engine.cliquetree import Floats
from diagnose.engine.posterior import Evidence, posterior
from diagnose.reasoning.evidence import known_answers
from diagnose.reasoning.graded import check_likelihood
from diagnose.reasoning.setup import CALLED, NONE, Desk
from diagnose.reject.found import CHECK, LOOK, MEASUREMENT, RULED_OUT, SURE, Found
from diagnose.reject.reject import Reject
from diagnose.rulebase.book import Book, Check, Look, Measurement
from diagnose.rulebase.sights import sights

TO_SETTLE = 0.1
"""Minutes that it takes to say whether a thing that was heard was meant."""
CERTAIN = 0.95
"""Probability of one root condition from which asking on is not worth it."""


@dataclass(frozen=True, slots=True)
class Question:
    """A question that can be put now.

    ``answers``: answer id -> the words to show; empty for a measurement, which has a ``unit``.
    ``gain_bits``: expected information about the responsible root condition. ``worth``: whether
    that is worth the ``minutes``. ``caution``: ids of cautions.
    """

    id: str
    kind: str
    ask: str
    how: str
    answers: Mapping[str, str]
    unit: str
    minutes: float
    gain_bits: float
    why: str
    worth: bool
    caution: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Prospect:
    """What an open question may show: ``joint`` is P(answer, root condition), answers x roots.

    ``answers``: their ids; for a measurement its bands, or "below", "within" and "above". ``rate``:
    bits a minute, the handling of the question counted in. ``heard``: words that may answer it
    already.
    """

    id: str
    kind: str
    minutes: float
    answers: tuple[str, ...]
    joint: Floats = field(compare=False)
    gain_bits: float
    rate: float
    heard: str = ""


BANDS = ("below", "within", "above")


def open_looks(desk: Desk, reject: Reject, always: str = "") -> list[str]:
    """Return the looks that can be asked: not answered, not implied, and making sense here.

    ``always`` is one that is asked even if it is implied or makes no sense.
    """
    known = known_answers(desk.book, reject, heard=True)
    settled = {look for look, answers in known.items() if len(answers) == 1}
    done = settled | {found.id for found in reject.found if found.kind != RULED_OUT}
    groups = sights(desk.book)
    done = {tied for name in done for tied in groups.get(name, {name})}
    return [
        name
        for name in desk.looks
        if name != CALLED
        and (name == always or (name not in done and _makes_sense(desk.book, name, known)))
    ]


def _makes_sense(book: Book, name: str, known: Mapping[str, frozenset[str]]) -> bool:
    """Tell whether a look is worth putting after what is known of the others; readings are."""
    if name not in book.looks:
        return True
    look = book.looks[name]

    def one_of(other: str, answers: Sequence[str]) -> bool:
        return other in known and known[other] <= {*answers}

    return all(one_of(*pair) for pair in look.only_if.items()) and not any(
        one_of(*pair) for pair in look.not_if.items()
    )


def prospects(
    desk: Desk, reject: Reject, evidence: Evidence, probabilities: Floats, always: str = ""
) -> list[Prospect]:
    """Return what every open question may show, the most telling a minute first.

    ``probabilities``: of every account, given the evidence. ``always``: see ``open_looks``.
    """
    looks = open_looks(desk, reject, always)
    likely = likely_heard(reject)
    done = {found.id for found in reject.findings if found.id not in likely}
    findings = [  # what was worked out from other readings is not asked for as well
        name
        for name, number in desk.findings.items()
        if name == always
        or (name not in done and (name in likely or number not in evidence.findings))
    ]
    outcomes = {desk.findings[name]: desk.outcomes(name) for name in findings if name not in likely}
    tables = look_tables(desk.model, probabilities, [desk.looks[look] for look in looks])
    for place, look in enumerate(looks):
        if desk.looks[look] in evidence.looks or desk.looks[look] in evidence.graded:
            tables[place] = narrowed(desk, evidence, desk.looks[look])
    open_tables = iter(finding_tables(desk.model, evidence, probabilities, outcomes))
    tables += [
        weighed(desk, evidence, reject, name) if name in likely else next(open_tables)
        for name in findings
    ]
    if not tables:
        return []
    sizes = [len(table) for table in tables]
    gains = information(np.concatenate(tables), np.cumsum([0, *sizes[:-1]]).tolist())
    said = {name: found.said for name, found in likely.items()}
    found = [
        _prospect(desk, name, table, max(0.0, float(gain)), said.get(name, ""))
        for name, table, gain in zip([*looks, *findings], tables, gains, strict=True)
    ]
    return sorted(found, key=lambda prospect: -prospect.rate)


def likely_heard(reject: Reject) -> dict[str, Found]:
    """Return what was heard without being sure of it: worth settling with one key."""
    return {
        found.id: found
        for found in reject.findings
        if found.chances and found.kind in (LOOK, CHECK) and found.chance < SURE
    }


def narrowed(desk: Desk, evidence: Evidence, look: int, by: Grouping | None = None) -> Floats:
    """Return P(answer, root condition) of a look of which something is known or heard.

    ``by``: other groups of accounts than those of one root condition.
    """
    looks = {k: answers for k, answers in evidence.looks.items() if k != look}
    graded = {k: likelihood for k, likelihood in evidence.graded.items() if k != look}
    rest = Evidence(looks, evidence.findings, graded)
    (table,) = look_tables(desk.model, posterior(desk.model, rest), [look], by)
    if look in evidence.graded:
        joint = table * np.array(evidence.graded[look])[:, None]
    else:
        few = list(evidence.looks[look])
        joint = np.zeros_like(table)
        joint[few] = table[few]
    return np.asarray(joint / joint.sum())


def weighed(
    desk: Desk, evidence: Evidence, reject: Reject, name: str, by: Grouping | None = None
) -> Floats:
    """Return P(answer, root condition) of a check of which something was heard.

    ``by``: other groups of accounts than those of one root condition.
    """
    number = desk.findings[name]
    findings = {k: weights for k, weights in evidence.findings.items() if k != number}
    rest = Evidence(evidence.looks, findings, evidence.graded)
    before = posterior(desk.model, rest)
    (table,) = finding_tables(desk.model, rest, before, {number: desk.outcomes(name)}, by)
    joint = table * check_likelihood(desk, name, reject.heard)[:, None]
    return np.asarray(joint / joint.sum())


def _prospect(desk: Desk, name: str, joint: Floats, gain: float, heard: str) -> Prospect:
    book = desk.book
    if name in book.looks:
        kind, minutes = LOOK, book.looks[name].minutes
        answers = desk.answers[desk.looks[name]]
    elif name in book.checks:
        check = book.checks[name]
        kind, minutes = CHECK, check.minutes
        answers = (check.bad, *(answer for answer in check.answers if answer != check.bad))
    else:
        kind, minutes, answers = MEASUREMENT, book.measurements[name].minutes, BANDS
        if name in desk.looks:
            answers = desk.answers[desk.looks[name]]
    if heard:  # it was said already; one key settles what was meant
        minutes = TO_SETTLE
    rate = gain / (minutes + (TO_SETTLE if heard else book.scale.handling))
    return Prospect(name, kind, minutes, answers, joint, gain, rate, heard)


def question(desk: Desk, prospect: Prospect, roots: Floats) -> Question:
    """Put a prospect into words; ``roots``: probability of every root condition now."""
    book, name = desk.book, prospect.id
    entry = book.looks.get(name) or book.checks.get(name) or book.measurements[name]
    answers: dict[str, str] = {}
    if isinstance(entry, Look):
        answers = {answer: told.say for answer, told in entry.answers.items()}
    elif isinstance(entry, Check):
        answers = dict(entry.answers)
    return Question(
        id=name,
        kind=prospect.kind,
        ask=f"What is the {entry.name}?" if isinstance(entry, Measurement) else entry.ask,
        how=entry.how,
        answers=answers,
        unit=entry.unit if isinstance(entry, Measurement) else "",
        minutes=prospect.minutes,
        gain_bits=prospect.gain_bits,
        why=why(desk, prospect, roots),
        worth=bool(prospect.rate >= book.scale.worth_asking and roots.max() < CERTAIN),
        caution=() if isinstance(entry, Look) else entry.caution,
    )


def why(desk: Desk, prospect: Prospect, roots: Floats) -> str:
    """Say in one sentence what a question is asked for: the two causes it best tells apart."""
    if prospect.heard:
        return f"You said “{prospect.heard}”: which of these does it mean?"
    likely = [int(j) for j in np.argsort(-roots)[:6] if roots[j] > 0.01]
    given = prospect.joint / np.maximum(prospect.joint.sum(axis=0), 1e-300)
    best, pair = 0.0, None
    for place, one in enumerate(likely):
        for other in likely[place + 1 :]:
            apart = 0.5 * np.abs(given[:, one] - given[:, other]).sum()
            value = float(apart * min(roots[one], roots[other]))
            if value > best:
                best, pair = value, (one, other)
    if pair is None:
        return "It bears on several of the likely causes."
    names = [cause_name(desk, desk.roots[j]) for j in pair]
    return f"It helps to tell “{names[0]}” from “{names[1]}”."


def cause_name(desk: Desk, cause: str) -> str:
    """Return the name of a root condition, or of "none of these"."""
    return "none of these" if cause == NONE else desk.book.conditions[cause].name
