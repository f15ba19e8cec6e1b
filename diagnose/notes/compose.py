"""Compose the corrective-action note of a reject: what to say, with no word on how it looks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.notes import findings
from diagnose.notes.castings import castings_in_words
from diagnose.notes.containing import FAIR, contain
from diagnose.notes.frommemory import memory_apart
from diagnose.notes.note import CONTEST, LIKELY, OPEN, Note, Other, Step, Suspect
from diagnose.notes.planned import plan
from diagnose.notes.proof import outcomes_for, step_of
from diagnose.notes.suspects import (
    cautions,
    proof_for,
    source_keys,
    suspect,
)
from diagnose.notes.wording import either, job_in_words, percent, sentence, sureness
from diagnose.reasoning.asking import Prospect, Question
from diagnose.reasoning.corrections import actions_for
from diagnose.reasoning.setup import NONE
from diagnose.reject.reject import one_line
from diagnose.rulebase.book import Book
from diagnose.rulebase.job import job_of
from diagnose.rulebase.panels import panels

if TYPE_CHECKING:
    from diagnose.reasoning.ranking import Cause
    from diagnose.session.session import Session

EVEN, WORTH_NAMING = 0.5, 0.05
"""Probabilities from which a cause can stand alone, and is named among the others."""

_NO_CAUSE = "none of the causes in the book"
_CASTINGS = "Let castings cool; goggles and guards to sound, saw, drill or grind them."
_FIRST_RULE = "Local rules and the works' own licensed practice come first."


def compose(session: Session) -> Note:
    """Return the note of a session as it stands."""
    book, reject = session.book, session.reject
    causes = session.causes()
    kind, chosen = _verdict_on(causes) if findings.anything(session) else (OPEN, [])
    can_ask = session.prospects
    proofs = [proof_for(session, cause.id, can_ask) for cause in chosen]
    suspects = tuple(suspect(session, *pair) for pair in zip(chosen, proofs, strict=True))
    asked = [q for q in session.ask_next(limit=3) if q.worth] if kind == OPEN else []
    paths = [session.likeliest_path(cause.id) for cause in chosen]
    job = job_of(reject)
    actions = [action for path in paths for action in actions_for(book, path, job)[:1]]
    to_do = [proof.id for proof in proofs if proof] + [question.id for question in asked]
    keys = [key for path in paths for key in source_keys(book, path, actions)]
    find_out = tuple(_step_to_ask(question) for question in asked)
    note = Note(
        reject=one_line(reject.name) or "unnamed reject",
        about=_about(session),
        kind=kind,
        fault=_fault(session),
        drawings=() if kind == OPEN else tuple(panels(book, session.defects()[0].id)),
        verdict=_verdict(kind, causes, suspects) if suspects else _open_verdict(session, causes[0]),
        contain=contain(session),
        suspects=suspects,
        find_out=find_out,
        cautions=_take_care(cautions(book, [c.area for c in chosen], actions, to_do)),
        findings=findings.weighed(session, chosen[0].id if chosen else ""),
        unsure=findings.unsure(session),
        not_understood=findings.not_understood(session),
        others=_others(session, causes, chosen, can_ask),
        warnings=tuple(sentence(text) for text in session.warnings()),
        figures=_figures(session, kind),
        sources=_sources(book, keys),
        job=job_in_words(reject.ticket),
        plan=plan(suspects, [cause.probability for cause in chosen], find_out),
        castings=castings_in_words(reject.ticket) if suspects else "",
    )
    return memory_apart(note)


def _verdict_on(causes: Sequence[Cause]) -> tuple[str, list[Cause]]:
    """Return the kind of note and the causes that it deals with.

    One cause stands alone when it is at least as likely as not, and twice as likely as the next.
    """
    known = [cause for cause in causes if cause.id != NONE]
    if not known or causes[0].id == NONE or known[0].probability < FAIR:
        return OPEN, []
    best = known[0].probability
    if best >= EVEN and (len(known) == 1 or known[1].probability * 2 <= best):
        return LIKELY, known[:1]
    return CONTEST, [cause for cause in known[:3] if cause.probability * 2 >= best]


def _verdict(kind: str, causes: Sequence[Cause], suspects: Sequence[Suspect]) -> str:
    """Return in one sentence how sure the cause is."""
    if kind == LIKELY:
        first = suspects[0]
        sure = sureness(causes[0].probability)
        return f"Cause: {first.name} ({first.area}). {sentence(sure)[:-1]}, {first.percent}."
    names = either([f"{s.name} ({s.area}, {s.percent})" for s in suspects])
    return f"Undecided. {'Nearest comes' if len(suspects) == 1 else 'It may be'} {names}."


def _open_verdict(session: Session, first: Cause) -> str:
    """Say why an open note names no cause."""
    if not findings.anything(session):
        return "Undecided: nothing is known of it yet."
    share = percent(first.probability)
    if first.id == NONE and first.probability >= EVEN:
        return f"Undecided: what was found fits no cause in the book ({share} for none of them)."
    name = _NO_CAUSE if first.id == NONE else first.name
    return f"Undecided: no cause stands out. First of many: {name}, {share}."


def _take_care(of_the_work: tuple[str, ...]) -> tuple[str, ...]:
    """Return all cautions: whatever the note is about, castings are cut and the rules hold."""
    return (*of_the_work, _CASTINGS, _FIRST_RULE)


def _about(session: Session) -> str:
    reject = session.reject
    section = "" if reject.section is None else f"section {reject.section:g} mm"
    said = [part for part in (reject.metal, reject.process, section) if part]
    return one_line(", ".join(said)) or "metal and process not said"


def _fault(session: Session) -> str:
    """Return what the fault is called, with its probability, in one sentence."""
    shares = session.defects()
    if not findings.anything(session) or shares[0].probability < FAIR:
        return "Not clear yet."
    near = [s for s in shares[:3] if s.probability * 3 >= shares[0].probability]
    return sentence(either([f"{s.name} ({percent(s.probability)})" for s in near]))


def _step_to_ask(question: Question) -> Step:
    """Return a question of the session as a step of which any outcome helps."""
    return Step(question.id, question.ask, sentence(question.how), question.minutes)


def _others(
    session: Session,
    causes: Sequence[Cause],
    chosen: Sequence[Cause],
    can_ask: Sequence[Prospect],
) -> tuple[Other, ...]:
    """Return up to three further causes that stay possible, each with what would tell it apart."""
    rest = [c for c in causes if c not in chosen and c.probability >= WORTH_NAMING][:3]
    changes = {change.leads_to: change.text for change in session.would_change()} if rest else {}
    return tuple(
        Other(
            _NO_CAUSE if cause.id == NONE else cause.name,
            percent(cause.probability),
            one_line(changes.get(cause.name) or _apart(session, cause, can_ask)),
        )
        for cause in rest
    )


def _apart(session: Session, cause: Cause, can_ask: Sequence[Prospect]) -> str:
    """Return the outcome of the best proof of a cause; empty for "none of these"."""
    proof = proof_for(session, cause.id, can_ask)
    if proof is None:
        return ""
    step = step_of(session.desk, proof, outcomes_for(session.book, cause.id)[proof.id])
    return f"{step.name}: {step.bears_out}"


def _figures(session: Session, kind: str) -> str:
    """Return what the percents rest on, and how far the first answer stands when they are off."""
    line = "The percents rest on judgements, not on counts."
    if kind == OPEN:
        return line
    steady = session.stability()
    stays = round(steady.share * steady.runs)
    often = "every time" if stays == steady.runs else f"{stays} times"
    line = (
        f"{line} With all figures shaken {steady.runs} times, the first cause stayed first {often}"
    )
    return f"{line}, else mostly {steady.runner_up}." if steady.runner_up else f"{line}."


def _sources(book: Book, keys: Sequence[str]) -> tuple[str, ...]:
    """Return the sources in words: what was read, what was recalled, what has no source."""
    known = [book.sources[key] for key in dict.fromkeys(keys) if key in book.sources]
    read = "; ".join(source.what for source in known if source.trust == "read")
    recalled = "; ".join(source.what for source in known if source.trust != "read")
    unsourced = {"common practice": "common practice", "from memory": "memory"}
    bare = " and ".join(words for key, words in unsourced.items() if key in set(keys))
    named = (("Read, whole or part", read), ("Recalled, not looked at", recalled))
    lines = [f"{how}: {what}." for how, what in named if what]
    return (*lines, *([f"No published source, only {bare}, for the rest."] if bare else []))
