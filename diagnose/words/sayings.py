"""The book's own sayings, as far as the reader has to look them up: by the letter, or when new."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from functools import cached_property
from hashlib import blake2b
from typing import Any

import numpy as np
from numpy.typing import NDArray

from diagnose.basics.arrayfile import check_shapes
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


def saying_mark(said: str) -> int:
    """Return the number under which a folded saying is looked up."""
    return int.from_bytes(blake2b(said.encode(), digest_size=8).digest())


SAYINGS_LIKE = {
    "marks": "u sayings", "counts": "i sayings", "meant": "i *",
    "classes": "u *", "words": "u *", "unlearned": "u *",
}  # fmt: skip
"""The arrays of an index: kind of number and what each axis counts."""


def sayings_arrays(book: Book, learned: Iterable[int]) -> dict[str, NDArray[Any]]:
    """Return all that has to be looked up as plain arrays; texts as their bytes."""
    table = sorted((saying_mark(said), meanings) for said, meanings in by_the_letter(book).items())
    classes = {name: None for _, meanings in table for name in meanings}
    number = {name: k for k, name in enumerate(classes)}
    words = {word for *_, text in sayings_of(book) for word in WORD.findall(text.lower())}
    return {
        "marks": np.array([mark for mark, _ in table], np.uint64),
        "counts": np.array([len(meanings) for _, meanings in table], np.int32),
        "meant": np.array([number[name] for _, some in table for name in some], np.int32),
        "classes": _bytes("\n".join(classes)),
        "words": _bytes("\n".join(sorted(words))),
        "unlearned": _bytes(json.dumps(unlearned(book, learned))),
    }


class SayingsIndex:
    """The book's sayings by the letter, the words they are made of, and which are new."""

    def __init__(self, arrays: Mapping[str, NDArray[Any]]) -> None:
        """Raise ValueError or TypeError where the arrays hold no index."""
        check_shapes(arrays, SAYINGS_LIKE)
        self._marks = arrays["marks"]
        self._ends = np.cumsum(arrays["counts"])
        self._meant = arrays["meant"]
        self._classes = _text(arrays["classes"]).split("\n")
        self._words = arrays["words"]
        if len(self._meant) != (self._ends[-1] if len(self._ends) else 0):
            raise ValueError("meanings are left over")
        if self._meant.max(initial=-1) >= len(self._classes):
            raise ValueError("a class that is not there")
        new = json.loads(_text(arrays["unlearned"]))
        self.unlearned = [(str(meaning), str(text)) for meaning, text in new]

    def meanings(self, said: str) -> list[str]:
        """Return the classes that a folded saying stands for, none where it is no saying."""
        mark = np.uint64(saying_mark(said))
        k = int(self._marks.searchsorted(mark))
        if k == len(self._marks) or self._marks[k] != mark:
            return []
        first = self._ends[k - 1] if k else 0
        return [self._classes[number] for number in self._meant[first : self._ends[k]].tolist()]

    @cached_property
    def words(self) -> list[str]:
        """The words that the sayings are made of."""
        return _text(self._words).split("\n")


def _bytes(text: str) -> NDArray[np.uint8]:
    return np.frombuffer(text.encode(), np.uint8)


def _text(array: NDArray[Any]) -> str:
    return array.astype(np.uint8).tobytes().decode()
