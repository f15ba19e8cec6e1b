"""The reject on the bench: every change to it is kept at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from diagnose.basics.errors import Fault
from diagnose.reasoning.asking import Question
from diagnose.reasoning.reasons import found_text
from diagnose.reject.found import CALLED, CHECK, MEASUREMENT, SURE, Checked, Found, Looked
from diagnose.reject.reject import one_line
from diagnose.rulebase.plaintext import bytes_of
from diagnose.session.onfile import NoRoom, OnFile
from diagnose.session.rejectfile import KEPT_LIMIT, dumped, read_reject
from diagnose.session.session import Session
from diagnose.session.shelf import Shelf

if TYPE_CHECKING:
    from diagnose.words.heard import Heard, Meaning


T = TypeVar("T")
BY_HAND = "All that was entered follows. From a file, diagnose reads it again:"
GO_ON = "You can go on: it is tried again at every change. Make room meanwhile."


@dataclass(slots=True)
class Bench:
    """A session whose every change is kept, and what is set aside while it runs.

    ``file``: where it is kept. ``trouble``: why the reject could not be put on the shelf, until it
    can be again. ``news``: what is to be told of the file, once.
    ``skipped``: questions set aside for now. ``drafts``: words typed but not yet said, by place.
    ``figures``: what was typed for the sums, by the names of sum and input.
    ``doubts``: contradictions that were told already. ``phrases``: what each phrase was taken for.
    """

    session: Session
    shelf: Shelf
    file: OnFile
    trouble: str = ""
    news: list[str] = field(default_factory=list)
    skipped: list[str] = field(default_factory=list)
    drafts: dict[str, str] = field(default_factory=dict)
    figures: dict[tuple[str, str], str] = field(default_factory=dict)
    doubts: set[str] = field(default_factory=set)
    phrases: dict[str, Heard] = field(default_factory=dict)

    def change(self, how: Callable[[], object]) -> str:
        """Make a change and keep it; return what is wrong with it, or an empty text."""
        return self.made(how)[0]

    def made(self, how: Callable[[], T]) -> tuple[str, T | None]:
        """Make a change and keep it; return what is wrong with it, and what came of it."""
        before = self.session.steps()
        try:
            came = how()
            self.save()
        except NoRoom as fault:
            self.session.back_to(before)
            return str(fault), None
        except Fault as fault:
            return str(fault), None
        return "", came

    def save(self) -> None:
        """Put the reject on the shelf; a failure is told, and it is tried again next time.

        Raises NoRoom where there is more of the reject than is ever kept of one.
        """
        try:
            told = self.file.keep(self.session)
        except NoRoom:
            raise
        except Fault as fault:
            self.trouble = f"{fault.problems[0].what} {GO_ON}"
        else:
            self.trouble = ""
            self.news += [told] if told else []

    def take_news(self) -> str:
        """Return what is to be told of the file, once, or an empty text."""
        told = "\n".join(self.news)
        self.news.clear()
        return told

    def is_kept(self) -> bool:
        """Look whether the disk has all that was entered; it is tried once more where it has not.

        So long as nothing was entered there is nothing to keep.
        """
        if self.file.path is None and not self.trouble:
            return False
        if self.trouble or not self.file.is_there():
            self.save()
        return not self.trouble and self.file.is_there()

    def by_hand(self) -> str:
        """Return the reject as a person can keep it where the disk does not."""
        return dumped(self.session).decode()

    def rename(self, name: str) -> str:
        """Give the reject another name, unless another reject on the shelf has it."""
        new = self.shelf.path_for(name)
        if not name.strip():
            return "A reject needs a name, so that it can be found again."
        if new != self.file.path and new.exists():
            return f"There is a reject called {name.strip()} already. Give this one another name."
        return self.change(lambda: self.session.about(name=name))

    def next_question(self) -> Question | None:
        """Return the best question that is worth its cost and was not skipped, or None."""
        asked = self.session.ask_next(limit=len(self.skipped) + 1)
        return next((q for q in asked if q.worth and q.id not in self.skipped), None)

    def new_doubt(self) -> str:
        """Return what was found to contradict the rest and was not told yet, or an empty text."""
        doubts = self.session.contradictions()
        new = [doubt for doubt in doubts if doubt not in self.doubts]
        self.doubts.update(new)
        return new[0] if new else ""

    def reply(self, question: Question, answer: str) -> str:
        """Give an answer to a look or a check; an empty one means "not sure"."""
        session = self.session
        if not answer:
            return self.change(lambda: session.unsure(question.id))
        give = session.check if question.kind == CHECK else session.answer
        return self.change(lambda: give(question.id, answer))

    def mean(self, meaning: Meaning, words: str) -> str:
        """Settle what words mean; they are no longer in doubt."""
        return self.change(lambda: self.session.settle(words, meaning))

    def strike(self, entry: str, words: str) -> str:
        """Take back what was found of an entry; strike words out where nothing was made of them."""
        if self.session.reject.finding(entry) is not None:
            return self.change(lambda: self.session.take_back(entry))
        return self.change(lambda: self.session.forget_phrase(words))

    def strike_heard(self, entry: str) -> str:
        """Strike what was heard of a question: it was not meant."""
        return self.change(lambda: self.session.not_meant(entry))

    def strike_meanings(self, meanings: Iterable[Meaning]) -> str:
        """Strike, in one change, just these meanings; what else was heard stays."""
        return self.change(lambda: self.session.none_meant(meanings))

    def heard(self, phrase: str) -> Heard:
        """Return what a phrase means; each is read once."""
        if phrase not in self.phrases:
            self.phrases[phrase] = self.session.understand(phrase)
        return self.phrases[phrase]

    def see(self, phrase: str) -> str:
        """Take down what a phrase says; return what is wrong with it, or an empty text."""
        return self.change(lambda: self.session.take_heard(self.heard(phrase)))

    def readings_told(self, phrase: str) -> str:
        """Return the readings that were taken down from a phrase, in words."""
        about = (self.session.reject.about(one.id) for one in self.heard(phrase).amounts)
        told = [found_text(self.session.desk, one) for one in about if one is not None]
        return f"Reading taken down: {'; '.join(told)}" if told else ""

    def offers(self, phrase: str) -> list[Meaning]:
        """Return what is to be settled of a phrase: what it likely says, or else is nearest to.

        What was answered or struck out meanwhile is left out.
        """
        heard, reject = self.heard(phrase), self.session.reject
        if heard.anything:
            return [one for one in heard.likely if self._open(one)]
        if not set(heard.missed) & set(reject.not_understood):
            return []
        return [one for one in heard.nearest if reject.finding(one.id) is None]

    def _open(self, one: Meaning) -> bool:
        reject = self.session.reject
        heard = any(h.id == one.id and h.answer == one.answer for h in reject.heard)
        known = reject.finding(one.id)
        said = known.answer if isinstance(known, Looked | Checked) else ""
        sure = known is not None and said == one.answer and known.chance >= SURE
        return heard and reject.about(one.id) is None and not sure

    def meanings(self, words: str) -> list[Meaning]:
        """Return what words that were not understood may have meant, the likeliest first."""
        heard = self.heard(words)
        found = [*heard.taken, *heard.likely, *heard.nearest]
        return list({(one.id, one.answer): one for one in found}.values())

    def meaning(self, meaning: Meaning) -> str:
        """Return a meaning in plain words; the name of a fault with what it is."""
        if meaning.kind == CALLED:
            defect = self.session.book.defects[meaning.id]
            return f"{defect.name}: {one_line(defect.what)}"
        return found_text(self.session.desk, self.session.found_by(meaning, ""))

    def seen(self) -> list[Found]:
        """Return the findings that came from the person's own words."""
        found = self.session.reject.findings
        return [one for one in found if one.said and one.kind != MEASUREMENT]


def new_bench(session: Session, shelf: Shelf) -> Bench:
    """Put a session's reject on the bench, under a name that is free if it has none."""
    name = session.reject.name or shelf.free_name()
    return Bench(session.another(replace(session.reject, name=name)), shelf, OnFile(shelf))


def resumed_bench(session: Session, shelf: Shelf, path: Path) -> Bench:
    """Take a reject off the shelf; raise Fault where it cannot be read."""
    content = bytes_of(path, str(path), KEPT_LIMIT)
    kept = session.another()
    read_reject(path, kept, begun=True, content=content)
    bench = new_bench(kept, shelf)
    bench.file = OnFile(shelf, path, content, bench.session.reject)
    return bench
