"""Everything that an answer, a check or a defect is called, ready to be found by its words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import log
from typing import Any, NamedTuple

from diagnose.reject import CALLED, CHECK, LOOK
from diagnose.rulebase.book import Book
from diagnose.rulebase.words_text import (
    LIGHT_ROOTS,
    NEUTRAL_ROOTS,
    SUBJECT_ROOTS,
    Folding,
    Word,
    folding_of,
    says_no,
    words_of,
)

LIGHT_WEIGHT = 0.4  # of the weight that a small word would have as an ordinary one
NEUTRAL_WEIGHT = 0.6  # the same for words such as casting or iron
MOST_WORDS = 9  # telling words in a saying; longer ones are sentences that nobody types

KEPT_AS = "sayings-6"
"""Raise the number when words are taken apart in another way: the words_english tables too."""

Keep = Callable[[str, Callable[[], Any]], Any]
"""Returns what was kept under a name, or builds and keeps it."""


class SayingWord(NamedTuple):
    """One telling word of a saying; ``weight`` is the greater, the fewer entries use the word.

    ``negated`` and ``no`` as for a word of a text; ``subject``: the thing that the saying is
    about, ``light``: a small word.
    """

    root: str
    raw: str
    negated: bool
    no: str
    weight: float
    light: bool
    subject: bool


class Saying(NamedTuple):
    """One way to say an answer of an entry, or to call a defect (``kind`` is ``called``)."""

    kind: str
    id: str
    answer: str
    text: str
    words: tuple[SayingWord, ...]
    weight: float

    @property
    def entry(self) -> tuple[str, str]:
        """What the answer belongs to; all defects share the one question what it is called."""
        return (self.kind, "" if self.kind == CALLED else self.id)

    @property
    def meaning(self) -> tuple[str, str, str]:
        """What it says, whatever the words."""
        return (self.kind, self.id, self.answer)


class Index:
    """All sayings of a book, found by the roots of their words.

    ``uses``: in how many entries a root occurs; ``topics``: what looks and checks are about;
    ``known``: the plain words that sayings and synonyms are made of.
    """

    def __init__(self, book: Book, keep: Keep) -> None:
        """Take all sayings of a book apart, or have them from where they were kept."""
        plain = keep(KEPT_AS, lambda: taken_apart(book))
        self.folding: Folding = {
            first: [(tuple(raws), tuple(roots)) for raws, roots in synonyms]
            for first, synonyms in plain["folding"].items()
        }
        self.topics = {(kind, name): frozenset(about) for kind, name, about in plain["topics"]}
        self.uses: dict[str, int] = plain["uses"]
        self.known = frozenset(plain["known"])
        self._most = log(1 + max(self.uses.values(), default=1))
        made = [self._word(*word) for word in plain["words"]]
        self._owners: dict[frozenset[str], int] = {}
        self.sayings: list[Saying] = []
        self.by_root: dict[str, list[int]] = {}
        for kind, name, answer, text, numbers in plain["sayings"]:
            words = tuple([made[number] for number in numbers])
            for word in words:
                self.by_root.setdefault(word.root, []).append(len(self.sayings))
            weight = sum([word.weight for word in words])
            self.sayings.append(Saying(kind, name, answer, text, words, weight))

    def _word(self, root: str, raw: str, negated: bool, no: str) -> SayingWord:
        light, subject = root in LIGHT_ROOTS, root in SUBJECT_ROOTS
        return SayingWord(root, raw, negated, no, self.weight(root), light, subject)

    def owners(self, roots: frozenset[str]) -> int:
        """Return in how many entries all these roots occur together in one saying."""
        if roots not in self._owners:
            lists = [set(self.by_root.get(root, ())) for root in roots]
            both = set.intersection(*lists) if lists else set()
            self._owners[roots] = len({self.sayings[number].id for number in both})
        return self._owners[roots]

    def weight(self, root: str) -> float:
        """Return how much a root tells: 1 for one that is everywhere, more for a rare one."""
        full = 1 + self._most - log(self.uses.get(root, 1))
        if root in LIGHT_ROOTS:
            return full * LIGHT_WEIGHT
        return full * NEUTRAL_WEIGHT if root in NEUTRAL_ROOTS else full


def taken_apart(book: Book) -> dict[str, Any]:
    """Return all that an index is made of, as plain lists and mappings that can be kept.

    A saying holds the numbers of its words in ``words``.
    """
    folding = folding_of(book.glossary)
    uses: dict[str, set[str]] = {}
    known = {raw for synonyms in folding.values() for raws, _ in synonyms for raw in raws}
    numbers: dict[tuple[str, str, bool, str], int] = {}
    sayings = []
    for kind, name, answer, text in sayings_of(book):
        words = _telling_words(text, folding)
        for word in words:
            uses.setdefault(word.root, set()).add(name)
            known.update(word.raw.split(" "))
        if words and not any(word.raw.isdigit() for word in words):
            keys = [(word.root, word.raw, word.negated, word.no) for word in words]
            held = [numbers.setdefault(key, len(numbers)) for key in keys]
            sayings.append([kind, name, answer, text, held])
    return {
        "folding": folding,
        "topics": [[*key, sorted(about)] for key, about in topics_of(book, folding)],
        "uses": {root: len(entries) for root, entries in uses.items()},
        "known": sorted(known),
        "words": list(numbers),
        "sayings": sayings,
    }


def _telling_words(text: str, folding: Folding) -> list[Word]:
    """Return the words of a saying, each root once; none where it would say too little.

    Small words alone say nothing. Where a "not" stands over nothing that tells, what is left would
    mean the contrary.
    """
    words = words_of(text, folding)
    if len(words) > 1:
        words = list({word.root: word for word in words}.values())
    if len(words) > MOST_WORDS or all(word.root in LIGHT_ROOTS for word in words):
        return []
    if not any(word.negated for word in words) and says_no(text):
        return []
    return words


def sayings_of(book: Book) -> Iterator[tuple[str, str, str, str]]:
    """Yield kind, id, answer and text of everything that people may say."""
    for look_id, look in book.looks.items():
        for answer_id, answer in look.answers.items():
            spoken = (answer.say,) if " " in answer.say else ()  # one word answers a question only
            for text in dict.fromkeys((*answer.words, *spoken)):
                yield LOOK, look_id, answer_id, text
    for check_id, check in book.checks.items():
        for answer_id, phrases in check.words.items():
            for text in phrases:
                yield CHECK, check_id, answer_id, text
    for defect_id, defect in book.defects.items():
        for text in dict.fromkeys((defect.name, *defect.also)):
            yield CALLED, defect_id, "", text


def topics_of(book: Book, folding: Folding) -> Iterator[tuple[tuple[str, str], frozenset[str]]]:
    """Yield what each look and check is about: the things named in its name and its question."""
    for kind, entries in ((LOOK, book.looks), (CHECK, book.checks)):
        for entry_id, entry in entries.items():
            asked = words_of(f"{entry.name}; {entry.ask}", folding)
            yield (kind, entry_id), SUBJECT_ROOTS & {word.root for word in asked}
