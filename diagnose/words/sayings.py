"""The book's own sayings, as far as the reader has to look them up: by the letter, or when new."""

from __future__ import annotations

import re
from collections.abc import Iterable
from hashlib import blake2b
from typing import Any

from diagnose.rulebase.book import Book
from diagnose.rulebase.sayings import sayings_of
from diagnose.words.classes import class_of

WORD = re.compile(r"[^\W_]+(?:['\u2019][^\W_]+)?")
_SMALL = frozenset({"a", "an", "the", "it", "is", "was", "are", "were", "so", "there", "this"})


def folded(text: str) -> str:
    """Return a text as it is compared: small letters, no stops, no small words at its ends.

    >>> folded("The Core was damp."), folded("it is")
    ('core was damp', 'it is')
    """
    words = [word.replace("\u2019", "'") for word in WORD.findall(text.lower())]
    kept = list(words)
    while kept and kept[0] in _SMALL:
        kept.pop(0)
    return " ".join(kept or words)


def learned_mark(meaning: str, text: str) -> int:
    """Return the number by which the weights remember that they were trained with a saying."""
    digest = blake2b(f"{meaning}|{folded(text)}".encode(), digest_size=8).digest()
    return int.from_bytes(digest)


def by_the_letter(book: Book) -> dict[str, list[str]]:
    """Return folded saying -> the classes that it stands for."""
    found: dict[str, list[str]] = {}
    for kind, name, answer, text in sayings_of(book):
        meanings = found.setdefault(folded(text), [])
        meaning = class_of(kind, name, answer)
        if meaning not in meanings:
            meanings.append(meaning)
    return found


def unlearned(book: Book, learned: Iterable[int]) -> list[tuple[str, str]]:
    """Return class and text of the sayings that training never saw."""
    known = set(map(int, learned))
    return [
        (meaning, text)
        for kind, name, answer, text in sayings_of(book)
        if learned_mark(meaning := class_of(kind, name, answer), text) not in known
    ]


def looked_up(book: Book, learned: Iterable[int]) -> dict[str, Any]:
    """Return both, and the words that the sayings are made of, as plain data that can be kept."""
    words = {word for *_, text in sayings_of(book) for word in WORD.findall(text.lower())}
    return {
        "by the letter": by_the_letter(book),
        "words": sorted(words),
        "unlearned": [list(pair) for pair in unlearned(book, learned)],
    }
