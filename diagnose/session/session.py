"""One reject being worked: what is known of it, what follows, and the way back."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from diagnose.basics.errors import Fault
from diagnose.basics.nearest import did_you_mean, kind_named
from diagnose.engine.posterior import Evidence, by_root, posterior
from diagnose.reasoning import ranking
from diagnose.reasoning.asking import CERTAIN, Prospect, Question, prospects, question
from diagnose.reasoning.colleague import Told, told_of
from diagnose.reasoning.evidence import evidence_of
from diagnose.reasoning.places import standing
from diagnose.reasoning.plan import Plan, plan_for
from diagnose.reasoning.present import PROVED_WORD, Standing, standings
from diagnose.reasoning.ranking import AccountShare, Cause, Share
from diagnose.reasoning.readings import Reading, reading_of, readings_of
from diagnose.reasoning.reasons import Change, Push, Reasons, Stability
from diagnose.reasoning.setup import NONE, Desk
from diagnose.reasoning.taking import (
    check_found,
    look_found,
    measurement_found,
    named_found,
)
from diagnose.reasoning.turns import ToGo, in_turn, to_go, worth_first
from diagnose.reject.found import CHECK, LOOK, RULED_OUT, Found, Hearing, Unsure
from diagnose.reject.name_and_section import name_of, section_of
from diagnose.reject.reject import Reject, one_line
from diagnose.reject.ticket import ENTRIES
from diagnose.rulebase.book import Book
from diagnose.rulebase.job import job_of
from diagnose.rulebase.measured import measurement_names, name_folded
from diagnose.session.library import Library

if TYPE_CHECKING:
    from diagnose.engine.cliquetree import Floats
    from diagnose.words.heard import Amount, Heard, Meaning
    from diagnose.words.reader import Reader
    from diagnose.words.readings import Named

FAIR = 0.5
"""Probability from which the first cause may be named as the likely one."""


Steps = tuple[Reject, tuple[Reject, ...], tuple[Reject, ...]]
"""A reject as it stands, what it was before each step, and what was undone."""


@dataclass(frozen=True, slots=True)
class CaseStanding:
    """How the case stands, in words, and whether it is worth asking on."""

    text: str
    asking: bool


class Session:
    """A reject at work. Every change keeps what was before, so that it can be undone.

    >>> session = open_session()
    >>> session.answer("cavity-wall", "smooth")
    >>> round(sum(cause.probability for cause in session.causes()), 9)
    1.0
    >>> session.undo(), session.reject.found
    (True, ())
    """

    def __init__(self, library: Library, reject: Reject, fresh: Reject | None = None) -> None:
        """``fresh``: a reject that nothing is known of yet."""
        self.library = library
        self.fresh = fresh or Reject()
        self._past: list[Reject] = []
        self._undone: list[Reject] = []
        self._use(reject)

    def another(self, reject: Reject | None = None) -> Session:
        """Return a session on another reject, with the same library."""
        return Session(self.library, reject or self.fresh, self.fresh)

    @property
    def book(self) -> Book:
        """The rule base."""
        return self.library.book

    @property
    def reject(self) -> Reject:
        """The reject as it stands; frozen, replaced at every change."""
        return self._reject

    def _use(self, reject: Reject) -> None:
        """Stand before this reject; what follows from it is worked out when it is asked for."""
        self._reject = reject
        self._evidence: Evidence | None = None
        self._probabilities: Floats | None = None
        self._reasons: Reasons | None = None
        self._plan: Plan | None = None
        self._turns: list[Prospect] | None = None
        self._standings: list[Standing] | None = None

    @property
    def desk(self) -> Desk:
        """The rule base made ready for this job."""
        return self.library.desk(job_of(self._reject))

    @property
    def evidence(self) -> Evidence:
        """What was found, as the engine takes it."""
        if self._evidence is None:
            self._evidence = evidence_of(self.desk, self._reject)
        return self._evidence

    @property
    def reasons(self) -> Reasons:
        """Why the causes stand as they do."""
        if self._reasons is None:
            self._reasons = Reasons(self.desk, self._reject, self.evidence, self.probabilities)
        return self._reasons

    def _change(self, reject: Reject) -> None:
        if reject != self._reject:
            before = self._reject
            self._use(reject)
            self._past.append(before)
            self._undone.clear()

    # what it is, and what was found

    def about(
        self,
        name: str | None = None,
        metal: str | None = None,
        process: str | None = None,
        section: str | float | None = None,
        **ticket: str,
    ) -> None:
        """Say what the reject is; what is None stays.

        ``section`` may be text such as "8 mm"; empty text means that it is not known. ``ticket``:
        what goes with it, by the names of ``diagnose.reject.ticket.ENTRIES``, as people write it.
        """
        reject = self._reject
        if name is not None:
            reject = replace(reject, name=name_of(name))
        if metal is not None:
            reject = replace(reject, metal=kind_named(metal, self.book.metals, "metal"))
        if process is not None:
            reject = replace(reject, process=kind_named(process, self.book.processes, "process"))
        if section is not None:
            known = section_of(section) if section != "" else None
            reject = replace(reject, section=known)
        for entry, text in ticket.items():
            if entry not in ENTRIES:
                raise Fault(f"A reject has no {entry!r}. {did_you_mean(entry, ENTRIES, 'entry')}")
            reject = replace(reject, ticket=reject.ticket.with_entry(entry, text))
        self._change(reject)

    @property
    def reader(self) -> Reader:
        """What people say and what it means."""
        return self.library.reader

    def understand(self, phrase: str) -> Heard:
        """Say what a phrase means for this job, without taking it down."""
        return self.understand_all([phrase])[0]

    def understand_all(self, phrases: Sequence[str]) -> list[Heard]:
        """Say what several phrases mean; together they take less time."""
        if not phrases:
            return []
        asked = self.desk.looks.keys() | self.desk.findings.keys()
        return self.reader.hear([one_line(phrase) for phrase in phrases], asked)

    def see(self, phrase: str) -> Heard:
        """Take down what somebody says they see; what is not understood is kept as well."""
        heard = self.understand(phrase)
        self.take_heard(heard)
        return heard

    def take_heard(self, heard: Heard) -> None:
        """Take down what was heard in a phrase, with how sure that is."""
        reject = self._reject.with_heard(hearings_of(heard))
        for amount in heard.amounts:
            if reject.about(amount.id) is None:
                reject = reject.with_found(measurement_found(self.book, amount.id, amount.text))
        self._change(reject.with_phrases(heard.missed))

    def settle(self, words: str, meaning: Meaning) -> None:
        """Take down for sure what words mean that were heard with a doubt, or not at all."""
        left = tuple(kept for kept in self._reject.not_understood if kept != words)
        found = self.found_by(meaning, words)
        reject = replace(self._reject, not_understood=left).without_heard(meaning.id)
        self._change(reject.with_found(found))

    def not_meant(self, entry: str) -> None:
        """Strike what was heard of a question; what was answered stays."""
        self._change(self._reject.without_heard(entry))

    def none_meant(self, meanings: Iterable[Meaning]) -> None:
        """Strike just these meanings of what was heard, in one change."""
        gone = {(one.kind, one.id, one.answer, one.words) for one in meanings}
        heard = self._reject.heard
        left = tuple(h for h in heard if (h.kind, h.id, h.answer, h.words) not in gone)
        self._change(replace(self._reject, heard=left))

    def keep_phrases(self, phrases: Iterable[str]) -> None:
        """Keep phrases that were not understood with the reject."""
        self._change(self._reject.with_phrases(phrases))

    def keep_heard(self, hearings: Iterable[Hearing]) -> None:
        """Take down what was heard before, as it was kept."""
        self._change(self._reject.with_heard(hearings))

    def add(self, found: Found) -> None:
        """Take down a finding made ready before."""
        self._change(self._reject.with_found(found))

    def found_by(self, meaning: Meaning, phrase: str) -> Found:
        """Return the finding that a meaning stands for, once it is sure."""
        if meaning.kind == LOOK:
            return look_found(self.book, meaning.id, meaning.answer, phrase)
        if meaning.kind == CHECK:
            return check_found(self.book, meaning.id, meaning.answer, phrase)
        return named_found(self.book, meaning.id, phrase)

    def answer(self, look: str, answer: str, said: str = "") -> None:
        """Answer a look."""
        self.add(look_found(self.book, look, answer, said))

    def check(self, check: str, answer: str, said: str = "") -> None:
        """Answer a check."""
        self.add(check_found(self.book, check, answer, said))

    def call_it(self, defect: str, said: str = "") -> None:
        """Say what the fault is called by the person who holds it."""
        self.add(named_found(self.book, defect, said))

    def measure(self, name: str, text: str) -> Reading:
        """Take down a reading with its unit; return it held against its window."""
        found = measurement_found(self.book, self._measured(name, text), text)
        self.add(found)
        return reading_of(self.desk, found)

    def _measured(self, name: str, text: str) -> str:
        """Return what a name surely means; the name itself where it means nothing.

        Raises Fault where it could be two things.
        """
        named = self.measurement_named(name, text)
        if named.sure or not named.likely:
            return named.sure or name
        which = " or ".join(f"“{self.book.measurements[entry].name}”" for entry in named.likely[:3])
        raise Fault(f"“{name}” could be {which}. Say which by that name.")

    def measurement_named(self, name: str, text: str) -> Named:
        """Return which measurements a name may mean, with what was read for it."""
        from diagnose.words.readings import Named

        if (entry := measurement_names(self.book).get(name_folded(name))) is not None:
            return Named(name, ((entry, 1.0),))
        return self.reader.gauges.named(name, text)

    def amount(self, amount: Amount) -> tuple[float, ...]:
        """Return the values of a reading taken out of a phrase, in the measurement's own unit."""
        return measurement_found(self.book, amount.id, amount.text).readings

    def keep_reading(self, name: str, text: str) -> None:
        """Keep a reading that the book does not know with the reject."""
        self._change(self._reject.with_reading(name, text))

    def unsure(self, entry: str) -> None:
        """Say that something was looked at and cannot be told: evidence of nothing."""
        self.add(self.unsure_found(entry))

    def unsure_found(self, entry: str) -> Found:
        """Return the finding that an entry was looked at and cannot be told."""
        asked = [*self.book.looks, *self.book.checks, *self.book.measurements]
        if entry not in asked:
            raise Fault(
                f"There is no look, check or measurement called {entry!r}. "
                f"{did_you_mean(entry, asked, 'question')}"
            )
        return Unsure(entry)

    def take_back(self, entry: str) -> None:
        """Take back whatever was said about an entry."""
        self._change(self._reject.without(entry))

    def forget_phrase(self, words: str) -> None:
        """Strike a phrase that was not understood."""
        kept = tuple(phrase for phrase in self._reject.not_understood if phrase != words)
        self._change(replace(self._reject, not_understood=kept))

    def everywhere(self, how: Callable[[Reject], Reject]) -> None:
        """Change the reject, and what it was at every step before, by what came from elsewhere.

        It is no step by itself, so undo never takes back what somebody else entered.
        """
        self._past = [how(one) for one in self._past]
        self._undone = [how(one) for one in self._undone]
        self._use(how(self._reject))

    def steps(self) -> Steps:
        """Return every step as it stands, for ``back_to``."""
        return self._reject, (*self._past,), (*self._undone,)

    def back_to(self, steps: Steps) -> None:
        """Go back to where ``steps`` was asked for, as if nothing had been said since."""
        reject, past, undone = steps
        self._past, self._undone = [*past], [*undone]
        self._use(reject)

    def undo(self) -> bool:
        """Go back one change; return whether there was one."""
        if not self._past:
            return False
        self._undone.append(self._reject)
        self._use(self._past.pop())
        return True

    def redo(self) -> bool:
        """Take the last undo back; return whether there was one."""
        if not self._undone:
            return False
        self._past.append(self._reject)
        self._use(self._undone.pop())
        return True

    # what follows

    @property
    def probabilities(self) -> Floats:
        """P(account), "none of these" last."""
        if self._probabilities is None:
            self._probabilities = posterior(self.desk.model, self.evidence)
        return self._probabilities

    def causes(self) -> list[Cause]:
        """Return the root conditions by the probability of being responsible, best first."""
        return ranking.causes(self.desk, self.probabilities)

    def defects(self) -> list[Share]:
        """Return the defects by probability; what is left belongs to "none of these"."""
        return ranking.defects(self.desk, self.probabilities)

    def accounts(self, limit: int | None = 20) -> list[AccountShare]:
        """Return the causal paths by probability, best first; all of them for None."""
        return ranking.accounts(self.desk, self.probabilities, limit)

    def ask_next(self, limit: int = 10) -> list[Question]:
        """Return the questions to put next: what the casting shows, then place by place.

        Those that are not worth their minutes come last.
        """
        roots = by_root(self.desk.model, self.probabilities)
        asked = worth_first(self.desk, self.turns)
        return [question(self.desk, prospect, roots) for prospect in asked[:limit]]

    @property
    def turns(self) -> list[Prospect]:
        """What every open question may show, in the order in which to put them."""
        if self._turns is None:
            here = standing(self.book, self._reject)
            self._turns = in_turn(self.desk, self.prospects, self.probabilities, here)
        return self._turns

    def to_go(self) -> ToGo:
        """Say about how many questions are left that are worth it, and how long they take."""
        here = standing(self.book, self._reject)
        asked = worth_first(self.desk, self.turns)
        return to_go(self.desk, asked, self.probabilities, here)

    def standings(self) -> list[Standing]:
        """Return what is proved, acting too, likely and possible (``reasoning.present``)."""
        if self._standings is None:
            self._standings = standings(self.desk, self._reject, self.evidence, self.probabilities)
        return self._standings

    def colleague(self, cause: str) -> Told:
        """Explain a cause like a colleague: how it comes, what speaks for it, what does not fit."""
        return told_of(self.reasons, self.probabilities, cause)

    @property
    def prospects(self) -> list[Prospect]:
        """What every open question may show, the most telling a minute first."""
        return self.reasons.prospects

    def plan(self) -> Plan:
        """Return what to do next, in which order, until the cause is found and put right."""
        if self._plan is None:
            self._plan = plan_for(
                self.desk, self._reject, self.evidence, self.probabilities, self.prospects,
                standing(self.book, self._reject),
                [one.ids[0] for one in self.standings() if one.word == PROVED_WORD],
            )  # fmt: skip
        return self._plan

    def question(self, entry: str) -> Question:
        """Return the question about any entry, answered already or not."""
        reject = self._reject.without(entry)
        evidence = evidence_of(self.desk, reject)
        probabilities = posterior(self.desk.model, evidence)
        for prospect in prospects(self.desk, reject, evidence, probabilities, always=entry):
            if prospect.id == entry:
                return question(self.desk, prospect, by_root(self.desk.model, probabilities))
        raise Fault(f"There is no question called {entry!r} for this metal and process.")

    def settled(self) -> CaseStanding:
        """Say how the case stands and whether it is worth asking on."""
        first = self.causes()[0]
        asking = next(iter(self.ask_next(1)), None)
        if first.probability >= CERTAIN:
            return CaseStanding(f"Settled: {first.name}.", False)
        if asking is not None and asking.worth:
            return CaseStanding("Still open: the next question is worth asking.", True)
        if first.id == NONE or first.probability < FAIR:
            return CaseStanding("Undecided, and nothing left to ask is worth its cost.", False)
        return CaseStanding(f"Probably {first.name}; nothing left to ask is worth its cost.", False)

    def readings(self) -> list[Reading]:
        """Return every reading against its window, then what follows from the readings."""
        return readings_of(self.desk, self._reject)

    # why

    def likeliest_path(self, cause: str) -> tuple[str, ...]:
        """Return the most probable causal path of a cause, the fault last; () without one."""
        best = ranking.likeliest(self.desk, self.probabilities, cause)
        return () if best is None else (*best.path, best.defect)

    def explain(self, cause: str) -> list[Push]:
        """Return what every finding does to a cause, the biggest first."""
        return self.reasons.pushes(cause)

    def mechanism(self, cause: str) -> list[str]:
        """Return, step by step, how a cause brings the fault about."""
        return self.reasons.mechanism(cause)

    def would_change(self) -> list[Change]:
        """Return the cheapest findings that would put another cause first."""
        return self.reasons.would_change()

    def contradictions(self) -> list[str]:
        """Return the findings that hardly go with the others."""
        return self.reasons.contradictions()

    def unexplained(self) -> list[str]:
        """Return the readings out of their window that explain nothing."""
        return self.reasons.unexplained()

    def stability(self) -> Stability:
        """Return how often the first cause stays first when every figure is shaken."""
        return self.reasons.stability

    def warnings(self) -> list[str]:
        """Return everything that should make one careful with the answer."""
        return [*self._out_of_scope(), *self.contradictions(), *self.unexplained()]

    def _out_of_scope(self) -> list[str]:
        windowless = [
            reading.name
            for reading in self.readings()
            if reading.low is None
            and reading.high is None
            and self.book.measurements[reading.id].windows
        ]
        return [
            f"No window is known for the {name} of this job, so the reading says nothing."
            for name in windowless
        ]


def hearings_of(heard: Heard) -> list[Hearing]:
    """Return what was heard in a phrase as it is kept with a reject."""
    said = [
        Hearing(one.kind, one.id, one.answer, one.probability, one.words, heard.phrase)
        for one in (*heard.taken, *heard.likely, *heard.faint)
    ]
    return said + [
        Hearing(RULED_OUT, one.id, one.answer, one.probability, one.words, heard.phrase)
        for one in heard.ruled_out
    ]


def open_session(reject: Reject | None = None, folder: Path | str | None = None) -> Session:
    """Load the rule base (from the cache if it can) and start work on a reject.

    Where the shop has a file of its own windows, they are laid over those of the book.
    """
    from diagnose.rulebase.cache import load_compiled
    from diagnose.session.windows.file import shop_path, with_shop

    book, key = load_compiled(folder)
    path = shop_path()
    if path is None:
        return Session(Library(book, key), reject or Reject())
    from diagnose.session.windows.read import read_shop

    shop = read_shop(path, book)
    fresh = shop.reject()
    library = Library(with_shop(book, shop), f"{key}-{shop.mark}")
    return Session(library, reject or fresh, fresh)
