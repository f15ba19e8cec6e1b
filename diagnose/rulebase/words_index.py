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
    folding_of,
    says_no,
    words_of,
)

LIGHT_WEIGHT = 0.4  # of the weight that a small word would have as an ordinary one
PLAIN_NEUTRAL = 0.6  # the same for words such as casting or iron
MOST_WORDS = 9  # telling words in a saying; longer ones are sentences that nobody types

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

    @property
    def content(self) -> int:
        """The number of words in it that are not small words."""
        return sum(not word.light for word in self.words)


class Index:
    """All sayings of a book, found by the roots of their words.

    ``uses``: in how many entries a root occurs. ``topics``: what an entry is about. ``known``:
    the plain words that sayings are made of.
    """

    def __init__(self, book: Book, keep: Keep) -> None:
        plain = keep("sayings-1", lambda: plain_index(book))
        self.folding: Folding = {
            first: [(tuple(raws), tuple(roots)) for raws, roots in many]
            for first, many in plain["folding"].items()
        }
        self.uses: dict[str, int] = plain["uses"]
        self.topics = {tuple(key.split(" ", 1)): frozenset(t) for key, t in plain["topics"].items()}
        self.known = frozenset(plain["known"])
        self.sayings: list[Saying] = []
        self.by_root: dict[str, list[int]] = {}
        self._owners: dict[frozenset[str], int] = {}
        self._most = log(1 + max(self.uses.values(), default=1))
        for row in plain["sayings"]:
            self._add(row)

    def _add(self, row: list[Any]) -> None:
        kind, entry, answer, text, listed = row
        words = tuple(
            SayingWord(
                root,
                raw,
                negated,
                no,
                self.weight(root),
                root in LIGHT_ROOTS,
                root in SUBJECT_ROOTS,
            )
            for root, raw, negated, no in listed
        )
        number = len(self.sayings)
        total = sum(word.weight for word in words)
        self.sayings.append(Saying(kind, entry, answer, text, words, total))
        for word in words:
            self.by_root.setdefault(word.root, []).append(number)

    def owners(self, roots: frozenset[str]) -> int:
        """Return in how many entries all these roots occur together in one saying."""
        if roots not in self._owners:
            lists = [set(self.by_root.get(root, ())) for root in roots]
            both = set.intersection(*lists) if lists else set()
            self._owners[roots] = len({(self.sayings[n].kind, self.sayings[n].id) for n in both})
        return self._owners[roots]

    def weight(self, root: str) -> float:
        """Return how much a root tells: 1 for one that is everywhere, more for a rare one."""
        full = 1 + self._most - log(self.uses.get(root, 1))
        if root in LIGHT_ROOTS:
            return full * LIGHT_WEIGHT
        return full * PLAIN_NEUTRAL if root in NEUTRAL_ROOTS else full


def plain_index(book: Book) -> dict[str, Any]:
    """Return the sayings of a book taken apart, as plain lists that can be kept in a file."""
    folding = folding_of(book.glossary)
    rows: list[list[Any]] = []
    uses: dict[str, set[str]] = {}
    known: set[str] = set()
    for kind, entry, answer, text in sayings_of(book):
        words = {word.root: word for word in words_of(text, folding)}.values()
        if all(word.root in LIGHT_ROOTS for word in words) or len(words) > MOST_WORDS:
            continue
        if says_no(text) and not any(word.negated for word in words):
            continue  # a "not" over nothing that tells: the rest would mean the contrary
        if not any(word.raw.isdigit() for word in words):
            listed = [[word.root, word.raw, word.negated, word.no] for word in words]
            rows.append([kind, entry, answer, text, listed])
        for word in words:
            uses.setdefault(word.root, set()).add(entry)
            known.update(word.raw.split())
    known.update(raw for many in folding.values() for raws, _ in many for raw in raws)
    return {
        "folding": folding,
        "sayings": rows,
        "uses": {root: len(entries) for root, entries in uses.items()},
        "topics": {" ".join(key): sorted(t) for key, t in topics_of(book, folding)},
        "known": sorted(known),
    }


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
