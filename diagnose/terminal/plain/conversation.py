"""The session line by line: the same questions as on the screens, in plain text."""

from __future__ import annotations

from textwrap import wrap
from typing import TextIO

from diagnose.basics.duration import about
from diagnose.basics.errors import Fault
from diagnose.notes.figures_in_words import quoted
from diagnose.notes.wording import sentence
from diagnose.reasoning.asking import Question
from diagnose.reasoning.reasons import found_text
from diagnose.reject.found import MEASUREMENT, SURE
from diagnose.session.autosave import BY_HAND, Bench, new_bench, resumed_bench
from diagnose.session.session import Session
from diagnose.session.shelf import Shelf
from diagnose.terminal.plain.console import EndOfInput, Talk, number_in
from diagnose.terminal.plain.words import GoTo, Leave, done, obey, put_causes, put_note, put_verdict

LONGEST = 1000
"""Letters of a line that are taken as one phrase; a field of the screens takes as many."""
STAGES = ("about", "see", "ask", "end")


def run(session: Session, shelf: Shelf, stdin: TextIO | None, stdout: TextIO | None) -> bool:
    """Work one reject line by line until the input ends or the person leaves.

    A stream is None where it was closed. Returns whether all that was entered is kept.
    """
    talk = Talk(stdin, stdout)
    bench: Bench | None = None
    try:
        bench = which_reject(session, shelf, talk)
        Conversation(bench, talk).run()
    except EndOfInput:
        if bench is not None:
            put_note(bench, talk)
    except (Leave, KeyboardInterrupt):
        talk.put()
    return bench is None or put_kept(bench, talk)


def put_kept(bench: Bench, talk: Talk) -> bool:
    """Print where the reject is kept, or else all of it; return whether nothing is lost.

    Where it could not be kept it is tried once more.
    """
    kept = bench.is_kept()
    if news := bench.take_news():
        talk.say(news)
    if kept:
        talk.put(f"Kept: {bench.file.path}")
    elif bench.trouble:
        talk.say(bench.trouble)
        talk.say(BY_HAND)
        talk.put(bench.by_hand())
    return kept or not bench.trouble


def which_reject(session: Session, shelf: Shelf, talk: Talk) -> Bench:
    """Ask which reject to work: a new one, or one from the shelf."""
    talk.put("Why was this casting scrapped?")
    talk.say("Answer with a number or a word. ? shows the words. Everything is kept as you go.")
    kept = shelf.kept()
    while kept and not session.reject.findings:
        talk.choices(["a new reject", *(f"{one.name}, {one.changed:%d %b %Y}" for one in kept)])
        reply = talk.read("Which")
        if reply.lower() == "quit":
            raise Leave
        if reply in ("", "1"):
            break
        if (number := number_in(reply, len(kept) + 1)) is not None:
            try:
                return resumed_bench(session, shelf, kept[number - 2].path)
            except Fault as fault:
                talk.say(f"It cannot be read. {fault}")
        else:
            talk.say(f"Type a number from 1 to {len(kept) + 1}, or quit.")
    return new_bench(session, shelf)


class Conversation:
    """One reject talked through in stages; any of the words may come at any prompt."""

    def __init__(self, bench: Bench, talk: Talk) -> None:
        self.bench = bench
        self.session = bench.session
        self.talk = talk

    def run(self) -> None:
        """Go through the stages in order, or as the words ask."""
        stage = "see" if self.session.reject.findings else "about"
        while True:
            try:
                getattr(self, stage)()
                stage = STAGES[min(STAGES.index(stage) + 1, len(STAGES) - 1)]
            except GoTo as where:
                stage = str(where) or stage

    def read(self, prompt: str = "") -> str:
        """Return the next line that is not one of the words; those are obeyed."""
        while True:
            line = self.talk.read(prompt)
            if not obey(self.bench, self.talk, line):
                return line

    def done(self, wrong: str) -> bool:
        """Print what is wrong; return whether all went well."""
        return done(self.bench, self.talk, wrong)

    def about(self) -> None:
        """Ask what it is; an empty line keeps what stands in brackets."""
        self.talk.put()
        self.talk.say("What is it? An empty line keeps what stands in brackets.")
        self.talk.say("The word ticket adds pattern, heat and how many; it may be left out.")
        reject = self.session.reject
        section = "not known" if reject.section is None else f"{reject.section:g} mm"
        known = {"name": reject.name, "metal": reject.metal, "process": reject.process}
        for what, now in {**known, "section": section}.items():
            while reply := self.read(f"{what} [{now}]"):
                if self.done(self._tell(what, reply)):
                    break

    def _tell(self, what: str, reply: str) -> str:
        if what == "name":
            return self.bench.rename(reply)
        return self.bench.change(lambda: self.session.about(**{what: reply}))

    def see(self) -> None:
        """Take phrases until an empty line."""
        self.talk.put()
        self.talk.say("What do you see? Say it in your own words, one thing a line.")
        self.talk.say("An empty line goes on to the questions.")
        while phrase := self.read():
            self._see(phrase)

    def _see(self, phrase: str) -> None:
        """Take a phrase down; a very long line in parts, as several of them."""
        *first, last = wrap(phrase, LONGEST, break_on_hyphens=False) or [phrase]
        for part in first:
            self._take(part)
        self._take(last)
        self._settle(last)

    def _take(self, phrase: str) -> None:
        before = self.session.reject
        self.done(self.bench.see(phrase))
        now = self.session.reject
        for found in now.findings:
            if found not in before.findings and found.chance >= SURE:
                self.talk.say(found_text(self.session.desk, found), "+ Heard: ")
        for words in now.not_understood:
            if words not in before.not_understood:
                self.talk.say(f"{quoted(words)}; kept for the note", "- Unknown: ")
        if doubt := self.bench.new_doubt():
            self.talk.say(doubt)

    def _settle(self, phrase: str) -> None:
        """Offer what a phrase may mean; another phrase may be typed instead of an answer."""
        while offers := self.bench.offers(phrase)[:5]:
            likely = self.bench.heard(phrase).likely
            self.talk.say(f"By {quoted(phrase)}, did you mean:", "? Likely: " if likely else "")
            self.talk.choices([self.bench.meaning(one) for one in offers], _0="none of these")
            reply = self.read()
            if reply.lower() == "y":
                reply = "1"
            if (number := number_in(reply, len(offers))) is not None:
                one = offers[number - 1]
                kept = self.session.reject.not_understood
                self.done(self.bench.mean(one, phrase if phrase in kept else one.words))
                continue
            if reply.lower() in ("0", "n"):
                self.done(self.bench.strike_meanings(offers))
                return
            if reply.isdecimal():
                self.talk.say(f"Type a number from 0 to {len(offers)}.")
                continue
            if reply:
                self._see(reply)
            return

    def ask(self) -> None:
        """Put one question after the other while one is worth asking."""
        while (question := self.bench.next_question()) is not None:
            self._put(question)
            take = self._take_reading if question.kind == MEASUREMENT else self._take_answer
            while not take(question, self.read()):
                pass
            put_causes(self.bench, self.talk)
            if doubt := self.bench.new_doubt():
                self.talk.say(doubt)
        self.talk.put()
        self.talk.say(f"Nothing more is worth asking. {self.session.settled().text}")
        self.bench.skipped.clear()

    def _put(self, question: Question) -> None:
        """Print one question with everything that belongs to it."""
        talk, book = self.talk, self.session.book
        talk.put()
        talk.say(question.ask)
        talk.say(question.how, "Look: ")
        talk.say(sentence(about(question.minutes)), "Takes: ")
        for caution in question.caution:
            talk.say(book.cautions[caution].say, "Care: ")
        talk.say(question.why, "Why: ")
        if question.kind == MEASUREMENT:
            talk.say(f"Type the reading, in {question.unit} or with another unit that fits.")
        talk.choices([*question.answers.values()], _0="not sure", s="skip it, ask another")

    def _take_reading(self, question: Question, reply: str) -> bool:
        """Take a reading; return whether the question is done with."""
        if reply in ("", "0", "s"):
            return self._take_answer(question, reply)
        return self.done(self.bench.change(lambda: self.session.measure(question.id, reply)))

    def _take_answer(self, question: Question, reply: str) -> bool:
        """Take an answer by its number or its own word; return whether there was one."""
        answers = {str(number): answer for number, answer in enumerate(question.answers, 1)}
        answers |= {answer: answer for answer in question.answers} | {"0": ""}
        if reply.lower() == "s":
            self.bench.skipped.append(question.id)
            return True
        if reply.lower() in answers:
            return self.done(self.bench.reply(question, answers[reply.lower()]))
        which = f"1 to {len(question.answers)}" if question.answers else "the reading"
        self.talk.say(f"Type {which}, 0 for not sure, s to skip, or ? for the words.")
        return False

    def end(self) -> None:
        """Show the verdict and wait for a word."""
        put_verdict(self.bench, self.talk)
        while True:
            self.talk.put()
            self.talk.say("What now? note, why, said, reading, see, ask or quit.")
            if reply := self.read():
                self.talk.say(f'"{reply}" is not one of the words. ? shows them.')
