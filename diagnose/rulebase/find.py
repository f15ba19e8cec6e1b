"""Find entries of the book by id, by name, or by words that are like theirs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from diagnose.basics.errors import Fault, Place, Problem
from diagnose.rulebase.book import Book

SINGULAR = {
    "conditions": "condition",
    "defects": "defect",
    "pairs": "pair",
    "looks": "look",
    "checks": "check",
    "measurements": "measurement",
    "actions": "action",
    "cautions": "caution",
    "areas": "area",
    "glossary": "word",
    "sources": "source",
    "metals": "metal",
    "processes": "process",
}
"""Section -> what one of its entries is called, in the order in which a name is looked up."""

LIKE_ENOUGH = 70.0  # percent


@dataclass(frozen=True, slots=True)
class Match:
    """An entry that is like the words: how much (0 to 100), and which of its words are."""

    score: float
    section: str
    id: str
    words: str


def lookup(book: Book, name: str) -> list[tuple[str, str]]:
    """Return (section, id) of the entries with this id, or else with this name or synonym.

    Raises Fault with the nearest names where there is none.
    """
    wanted = _folded(name)
    ids = ((section, entry) for section in SINGULAR for entry in getattr(book, section))
    if exact := [(section, entry) for section, entry in ids if _folded(entry) == wanted]:
        return exact
    named = ((section, entry) for section, entry, words in names(book) if _folded(words) == wanted)
    if found := list(dict.fromkeys(named)):
        return found
    near = [match.id for match in find(book, name)[:3]]
    instead = f"Did you mean {' or '.join(map(repr, near))}?" if near else "Try 'book find'."
    raise Fault(Problem(Place(), f"Nothing in the book is called {name!r}.", instead))


def _folded(words: str) -> str:
    """Return words without regard to capitals, hyphens and spacing."""
    return " ".join(words.casefold().replace("-", " ").split())


def find(book: Book, words: str, most: int = 10) -> list[Match]:
    """Return the entries most like the words, best first, each with its best saying.

    Names, synonyms, the glossary and the everyday words of looks and checks are searched.
    """
    from rapidfuzz import fuzz, process, utils

    said = list(sayings(book))
    ranked = process.extract(
        words,
        [text for _, _, text in said],
        scorer=fuzz.WRatio,
        processor=utils.default_process,
        score_cutoff=LIKE_ENOUGH,
        limit=None,
    )
    ranked.sort(key=lambda hit: (-hit[1], -fuzz.ratio(words, hit[0])))
    best: dict[tuple[str, str], Match] = {}
    for text, score, number in ranked:
        section, entry, _ = said[number]
        best.setdefault((section, entry), Match(score, section, entry, text))
    return list(best.values())[:most]


def names(book: Book) -> Iterator[tuple[str, str, str]]:
    """Yield (section, id, words) for the ids, names and synonyms of all entries."""
    for section in SINGULAR:
        for entry, detail in getattr(book, section).items():
            if section in ("metals", "processes"):
                called = detail
            else:
                called = (getattr(detail, "name", ""), *getattr(detail, "also", ()))
            yield from ((section, entry, text) for text in (entry, *called) if text)


def sayings(book: Book) -> Iterator[tuple[str, str, str]]:
    """Yield (section, id, words) for all that entries go by, their names first."""
    yield from names(book)
    for entry, look in book.looks.items():
        yield "looks", entry, look.ask
        for answer in look.answers.values():
            for text in (answer.say, *answer.words):
                yield "looks", entry, text
    for entry, check in book.checks.items():
        yield "checks", entry, check.ask
        for phrases in check.words.values():
            yield from (("checks", entry, text) for text in phrases)
    for entry, source in book.sources.items():
        yield "sources", entry, source.what
    for entry, caution in book.cautions.items():
        yield "cautions", entry, caution.say
