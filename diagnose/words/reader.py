"""Hear what a phrase says: every answer with the probability that it is meant, and its words.

The trained encoder gives every part of a phrase a number for every answer. Beside it stand what it
cannot know or need not guess: the book's sayings by the letter and those added since, lengths,
denials, doubts, and places of which it is said that all is well there.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from diagnose.reject.found import CALLED, CHECK, LIKELY, LOOK, SURE
from diagnose.reject.reject import one_line
from diagnose.rulebase.book import Book
from diagnose.rulebase.renamed import now_called, split
from diagnose.rulebase.sights import sights
from diagnose.words.calibration import Questions
from diagnose.words.classes import CALLED_AS, MEASURED_AS
from diagnose.words.english import ALL_WELL, DENIALS, DOUBTS
from diagnose.words.heard import NEAREST, Heard, Meaning
from diagnose.words.model import Model, Read
from diagnose.words.readings import Gauges
from diagnose.words.sayings import WORD, SayingsIndex, folded, sayings_arrays
from diagnose.words.size import answers_for, lengths, ranges_of
from diagnose.words.spans import Span

LONGEST = 2000
"""Letters of a phrase that are read; nobody says more in one breath."""
TOGETHER = 64
"""Phrases that are read at a time."""
LETTER = 0.96
"""Probability of a saying of the book that is there by the letter."""
INSIDE, HALF_HEARD, BY_BOTH = 7, 0.3, 0.8
"""Words of a saying that is looked for inside a clause; how sure the encoder must be of it for it
to be trusted; the probability that both together give."""
MOST = 0.97
"""Probability that all answers to one question have together, however sure the words."""
DOUBTED = 0.6
"""Share of its probability that a meaning keeps in a clause that is said with a doubt."""
SPOKEN_OF = 0.2
"""Probability of any answer about a length from which a length is taken for it."""
MEASURED = 0.9
"""Probability of the answer in whose range a length lies."""
DENIED = 0.8
"""Probability from which a thing is ruled out where the same words without the "no" say it."""
STRANGE = 0.5
"""Share of words that are none from which a phrase is taken for gibberish or another language."""
FAINT = 0.06
"""Probability from which a meaning counts at all in the sums."""
FLOOR = 0.01
"""Probabilities below are no meaning at all."""
CLOSE = 0.7
"""Logits by which a shorter part may fall behind the best and still be the words that say it."""

Arrays = Mapping[str, NDArray[Any]]
Keep = Callable[[str, Callable[[], Arrays], Callable[[Arrays], Any]], Any]
"""Returns what is made of arrays kept under a name, or of those that it has built and keeps."""


@dataclass(frozen=True, slots=True)
class _Guess:
    """A meaning's probability and the place of the words that say it."""

    probability: float
    place: Span


Guesses = dict[str, _Guess]
"""Class -> guess."""


class Reader:
    """What people say and what it means, for one book.

    >>> from diagnose.rulebase.load import load
    >>> (heard,) = Reader(load()).hear(["jagged hole, next to the core"])
    >>> sorted((one.id, one.answer) for one in heard.taken)
    [('beside-core', 'at-a-core'), ('cavity-wall', 'jagged'), ('fault-form', 'hole')]
    """

    def __init__(self, book: Book, keep: Keep | None = None) -> None:
        """Make ready for a book; ``keep`` may keep what was worked out for next time."""
        self.book = book
        self.model = Model()
        self._keep = keep or (lambda _name, build, make: make(build()))
        self._of_book = _classes_of(book)
        self._names = [self._now(name) for name in self.model.classes]
        mine = np.array([name in self._of_book for name in self._names])
        groups = np.array([_group(name) for name in self._names])
        self._answers = np.flatnonzero(mine & (groups == "answers"))
        self._called = np.flatnonzero(mine & (groups == "called"))
        self.measured = np.flatnonzero(mine & (groups == "measured"))
        self._questions = {
            group: Questions([self._names[k] for k in columns])
            for group, columns in (("answers", self._answers), ("called", self._called))
        }
        self.gauges = Gauges(book, self.model)
        self._mark = f"sayings-{self.model.facts['data'][:12]}"
        self._sayings: SayingsIndex = self._keep(
            self._mark, lambda: sayings_arrays(book, self.model.learned.tolist()), SayingsIndex
        )
        self._strange = lru_cache(maxsize=10_000)(self._is_strange)
        self._ranges = ranges_of(book)
        self._sights = sights(book)
        self._places = {name for name, look in book.looks.items() if look.tells_where}

    def _now(self, name: str) -> str:
        """Return what a class of the weights is called in the book now."""
        if name.startswith((CALLED_AS, MEASURED_AS)):
            return name
        return "=".join(now_called(self.book, *split(name)))

    @cached_property
    def _new(self) -> tuple[list[str], NDArray[np.float32]]:
        """The sayings that training never saw: their classes and vectors."""
        new = self._sayings.unlearned
        width = self.model.encoder.width
        if not new:
            return [], np.zeros((0, width), np.float32)

        def build() -> Arrays:
            read = self.model.read([text for _, text in new])
            return {"vectors": np.array([one.vectors[0] for one in read], np.float32)}

        def make(arrays: Arrays) -> NDArray[np.float32]:
            if arrays["vectors"].shape != (len(new), width):
                raise ValueError("kept for other sayings")
            return arrays["vectors"].astype(np.float32)

        return [name for name, _ in new], self._keep(f"{self._mark}-vectors", build, make)

    def hear(self, phrases: Sequence[str], asked: Collection[str] | None = None) -> list[Heard]:
        """Return what each phrase says. ``asked``: looks and checks that this job has; all if None.

        What was heard of other looks and checks is left out.
        """
        plain = [one_line(phrase)[:LONGEST] for phrase in phrases]
        without = [_without_denials(text) for text in plain]
        found: list[Heard] = []
        for at in range(0, len(plain), TOGETHER):
            some = plain[at : at + TOGETHER]
            turned = without[at : at + TOGETHER]
            read = self.model.read([*some, *(text for one in turned for text, _ in one)])
            contrary = iter(read[len(some) :])
            for phrase, text, one, denials in zip(
                phrases[at : at + TOGETHER], some, read, turned, strict=False
            ):
                guesses = self._guesses(text, one)
                denied = [(next(contrary), place) for _, place in denials]
                found.append(self._heard(phrase, text, guesses, denied, asked))
        return found

    # from numbers to guesses

    def _guesses(self, text: str, read: Read) -> Guesses:
        """Return every answer and name that a phrase may say."""
        if not read.parts:
            return {}
        guesses = self._of(read, self._answers, "answers")
        guesses |= {
            name: guess
            for name, guess in self._of(read, self._called, "called").items()
            if guess.probability >= SURE and not DENIALS.search(text, *guess.place)
        }
        self._add_new(guesses, read)
        self._add_letter(guesses, text, read.parts)
        self._measure(guesses, text)
        self._mind_doubts(guesses, text)
        self._mind_strange_words(guesses, text)
        return guesses

    def _of(self, read: Read, columns: NDArray[np.intp], curve: str) -> Guesses:
        """Return the guesses of one group of classes."""
        logits = read.logits[:, columns].astype(np.float64)
        table, best = self._questions[curve].features(logits)
        chances = self.model.curve(curve)(table)
        sizes = np.array([end - start for start, end in read.parts])
        found = {}
        for k in np.flatnonzero(chances > FLOOR):
            near = np.flatnonzero(logits[:, k] >= logits[best[k], k] - CLOSE)
            part = int(near[sizes[near].argmin()])
            found[self._names[columns[k]]] = _Guess(float(chances[k]), read.parts[part])
        return found

    def _add_new(self, guesses: Guesses, read: Read) -> None:
        """Hear sayings that were added to the book after the training, by their likeness."""
        names, table = self._new
        if not names:
            return
        likeness = read.vectors @ table.T
        chances = self.model.curve("likeness")(likeness.max(axis=0)[:, None].astype(np.float64))
        for k in np.flatnonzero(chances > LIKELY):
            _raise(guesses, names[k], float(chances[k]), read.parts[int(likeness[:, k].argmax())])

    def _add_letter(self, guesses: Guesses, text: str, parts: Sequence[Span]) -> None:
        """Hear the book's own sayings where a part of the phrase is one by the letter."""
        for number, (start, end) in enumerate(parts):
            said = folded(text[start:end])
            if number == 0 or " " in said:
                meanings = self._sayings.meanings(said)
                for name in meanings:
                    _raise(guesses, name, LETTER / len(meanings), (start, end))
        for start, end in _clauses(text):
            if not DENIALS.search(text, start, end):
                self._add_inside(guesses, text, start, end)

    def _add_inside(self, guesses: Guesses, text: str, start: int, end: int) -> None:
        """Trust a saying of several words inside a clause where the encoder half hears it too."""
        words = [(m.start(), m.end()) for m in WORD.finditer(text, start, end)]
        for size in range(2, min(INSIDE, len(words)) + 1):
            for first in range(len(words) - size + 1):
                place = (words[first][0], words[first + size - 1][1])
                meanings = self._sayings.meanings(folded(text[slice(*place)]))
                name = meanings[0] if len(meanings) == 1 else ""
                if name in guesses and guesses[name].probability >= HALF_HEARD:
                    _raise(guesses, name, BY_BOTH, place)

    def _measure(self, guesses: Guesses, text: str) -> None:
        """Let lengths choose among the answers that stand for ranges of a length."""
        for length in lengths(text):
            for look, ranges in self._ranges.items():
                mine = [name for name in guesses if name.partition("=")[0] == look]
                about = sum(guesses[name].probability for name in mine)
                if length.elsewhere or about < SPOKEN_OF:
                    continue
                meant = answers_for(length, ranges)
                for name in mine:
                    del guesses[name]
                for answer in meant:
                    place = (length.start, length.end)
                    guesses[f"{look}={answer}"] = _Guess(MEASURED / len(meant), place)

    def _mind_doubts(self, guesses: Guesses, text: str) -> None:
        """Lower what is said with a doubt; drop the places of what is said to be well."""
        for name, guess in list(guesses.items()):
            clause = _clause_around(text, guess.place)
            if DOUBTS.search(clause):
                share = guess.probability * DOUBTED
                guesses[name] = replace(guess, probability=min(share, 0.99 * SURE))
            place = name.partition("=")[0] in self._places
            if not place or not ALL_WELL.search(clause):
                continue
            if guess.probability < LETTER and not self._sayings.meanings(folded(clause)):
                guesses[name] = replace(guess, probability=guess.probability * DOUBTED)

    def _mind_strange_words(self, guesses: Guesses, text: str) -> None:
        """Believe little of words of which most are no words, not even with a slip in them."""
        words = [word for word in WORD.findall(text.lower()) if len(word) > 2]
        share = sum(map(self._strange, words)) / len(words) if words else 1.0
        if share > STRANGE:
            for name, guess in guesses.items():
                guesses[name] = replace(guess, probability=guess.probability * (1.0 - 0.9 * share))

    def _is_strange(self, word: str) -> bool:
        """Tell whether a word is neither English that the encoder knows nor near to the book's."""
        if word in self.model.encoder.vocabulary or word.isdecimal():
            return False
        if word in self._sayings.words:
            return False
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        slips = 1 if len(word) < 8 else 2
        near = process.extractOne(
            word, self._sayings.words, scorer=OSA.distance, score_cutoff=slips
        )
        return near is None

    # from guesses to what was heard

    def _heard(
        self,
        phrase: str,
        text: str,
        guesses: Guesses,
        denied: Sequence[tuple[Read, Span]],
        asked: Collection[str] | None,
    ) -> Heard:
        meanings = sorted(
            self._meanings(text, guesses, asked), key=lambda one: (-one.probability, one.id)
        )
        meanings = list(self._once_a_sight(meanings))
        taken = tuple(one for one in meanings if one.sure)
        likely = tuple(one for one in meanings if LIKELY <= one.probability < SURE)
        faint = tuple(one for one in meanings if FAINT <= one.probability < LIKELY)
        ruled_out = tuple(self._ruled_out(text, guesses, denied, asked))
        rest = [one for one in meanings if not one.sure]
        used = [guesses[_name(one)].place for one in (*taken, *likely) if _name(one) in guesses]
        used += [place for _, place in denied] if ruled_out else []
        amounts = tuple(self.gauges.spoken(text, _clauses(text)))
        used += [(at, at + len(one.words)) for one in amounts if (at := text.find(one.words)) >= 0]
        return Heard(
            phrase,
            taken,
            likely,
            faint,
            ruled_out,
            tuple(rest[:NEAREST]),
            amounts,
            missed=tuple(_missed(text, used)),
        )

    def _meanings(
        self, text: str, guesses: Guesses, asked: Collection[str] | None
    ) -> Iterator[Meaning]:
        """Yield the guesses as meanings; the answers to one question share no more than one."""
        sums: dict[str, float] = {}
        for name, guess in guesses.items():
            entry = name.partition("=")[0]
            sums[entry] = sums.get(entry, 0.0) + guess.probability
        for name, guess in guesses.items():
            entry, _, answer = name.partition("=")
            kind = CALLED if name.startswith(CALLED_AS) else self._kind(entry)
            if kind != CALLED and asked is not None and entry not in asked:
                continue
            share = guess.probability * min(1.0, MOST / sums[entry])
            words = text[slice(*guess.place)]
            if kind == CALLED:
                yield Meaning(CALLED, answer, "", share, words)
            else:
                yield Meaning(kind, entry, answer, share, words)

    def _built_on(self, entry: str) -> Collection[str]:
        """Return the looks that go without saying where something is said of another."""
        return self.book.looks[entry].only_if if entry in self.book.looks else ()

    def _kind(self, entry: str) -> str:
        return LOOK if entry in self.book.looks else CHECK

    def _once_a_sight(self, meanings: Sequence[Meaning]) -> Iterator[Meaning]:
        """Pass on what was heard of questions that ask after one fact only once: the surest."""
        told: dict[str, str] = {}
        for one in meanings:
            if one.kind == LOOK and one.probability >= LIKELY:
                group = self._sights[one.id]
                if any(told.get(other, one.id) != one.id for other in group):
                    continue
                told |= dict.fromkeys(group, one.id)
            yield one

    def _ruled_out(
        self,
        text: str,
        guesses: Guesses,
        denied: Sequence[tuple[Read, Span]],
        asked: Collection[str] | None,
    ) -> Iterator[Meaning]:
        """Yield the answers that the words say without their "no", and do not say with it.

        Only where they say one thing: *no holes in the drag* rules out neither holes nor drag.
        """
        for read, (start, end) in denied:
            if not read.parts:
                continue
            plain = self._of(read, self._answers, "answers")
            about = {n.partition("=")[0] for n, g in plain.items() if g.probability >= LIKELY}
            about -= {other for look in about for other in self._built_on(look)}
            for name, guess in plain.items():
                entry, _, answer = name.partition("=")
                said = guesses.get(name, _Guess(0.0, (0, 0))).probability
                fits = asked is None or entry in asked
                sure = guess.probability >= DENIED and about == {entry}
                if sure and said < LIKELY and fits and self._kind(entry) == LOOK:
                    yield Meaning(LOOK, entry, answer, guess.probability, text[start:end].strip())


def _name(one: Meaning) -> str:
    return CALLED_AS + one.id if one.kind == CALLED else f"{one.id}={one.answer}"


def _classes_of(book: Book) -> set[str]:
    answers = {f"{name}={a}" for name, look in book.looks.items() for a in look.answers}
    answers |= {f"{name}={a}" for name, check in book.checks.items() for a in check.answers}
    answers |= {CALLED_AS + name for name in book.defects}
    return answers | {MEASURED_AS + name for name in book.measurements}


def _group(name: str) -> str:
    if name.startswith(CALLED_AS):
        return "called"
    return "measured" if name.startswith(MEASURED_AS) else "answers"


def _raise(guesses: Guesses, name: str, probability: float, place: Span) -> None:
    """Give a class at least this probability."""
    if name not in guesses or guesses[name].probability < probability:
        guesses[name] = _Guess(probability, place)


_STOP = re.compile(r"[,;:!()]+(?!\d)|[.,](?!\d)")


def _clause_around(text: str, place: Span) -> str:
    """Return the words between the stops around a place."""
    start, end = place
    before = [match.end() for match in _STOP.finditer(text, 0, start)]
    behind = _STOP.search(text, end)
    return text[before[-1] if before else 0 : behind.start() if behind else len(text)]


def _clauses(text: str) -> Iterator[Span]:
    """Yield the places of the words between stops; the point in a number is none."""
    start = 0
    for match in _STOP.finditer(text):
        if text[start : match.start()].strip():
            yield start, match.start()
        start = match.end()
    if text[start:].strip():
        yield start, len(text)


def _without_denials(text: str) -> list[tuple[str, Span]]:
    """Return every clause that says "no", without it, and where it stands."""
    found = []
    for start, end in _clauses(text):
        plain, many = DENIALS.subn("", text[start:end])
        if many and plain.strip():
            found.append((plain.strip(), (start, end)))
    return found


def _missed(text: str, used: Sequence[Span]) -> Iterator[str]:
    """Yield the clauses of which nothing was made."""
    for start, end in _clauses(text):
        if not any(a < end and start < b for a, b in used):
            yield text[start:end].strip()
