"""Cut text into the word pieces that the encoder knows, and remember where each stood.

Greedy longest-match pieces of lower-case words, the scheme that the base encoder was trained with
(Wu and others 2016, "Google's neural machine translation system", section 4.1; from memory).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple
from unicodedata import category, normalize

_SIGNS = r"!-/:-@\[-`{-~"
_WORD = re.compile(rf"[{_SIGNS}]|[^\s{_SIGNS}]+")
LONGEST_WORD = 100
"""Characters; a longer word is one unknown piece."""
UNKNOWN, FIRST, LAST = "[UNK]", "[CLS]", "[SEP]"
INSIDE = "##"
"""Stands before a piece that goes on with a word."""


class Piece(NamedTuple):
    """A piece of a word: its number in the vocabulary and where its whole word stands."""

    number: int
    start: int
    end: int


class Vocabulary:
    """The pieces that are known, by number.

    >>> known = Vocabulary(["[UNK]", "[CLS]", "[SEP]", "blow", "##hole", "##s", "'"])
    >>> [(piece.number, piece.start, piece.end) for piece in known.pieces("Blowholes' end")]
    [(3, 0, 9), (4, 0, 9), (5, 0, 9), (6, 9, 10), (0, 11, 14)]
    """

    def __init__(self, texts: list[str]) -> None:
        self.texts = texts
        self._number: Mapping[str, int] = {text: number for number, text in enumerate(texts)}
        self.unknown = self._number[UNKNOWN]
        self.first = self._number[FIRST]
        self.last = self._number[LAST]
        self._cut = lru_cache(maxsize=50_000)(self._cut_word)

    def __contains__(self, word: str) -> bool:
        """Tell whether a word in small letters is one piece."""
        return word in self._number

    def pieces(self, text: str) -> list[Piece]:
        """Return the pieces of a text in order, without the marks of its beginning and end."""
        return [
            Piece(number, start, end)
            for start, end in _words(text)
            for number in self._cut(text[start:end])
        ]

    def _cut_word(self, word: str) -> tuple[int, ...]:
        plain = "".join(c for c in normalize("NFD", word.lower()) if category(c) != "Mn")
        if len(plain) > LONGEST_WORD:
            return (self.unknown,)
        found: list[int] = []
        at = 0
        while at < len(plain):
            for end in range(len(plain), at, -1):
                name = plain[at:end] if at == 0 else INSIDE + plain[at:end]
                if (number := self._number.get(name)) is not None:
                    found.append(number)
                    at = end
                    break
            else:
                return (self.unknown,)
        return tuple(found)


def _words(text: str) -> Iterator[tuple[int, int]]:
    """Yield where the words and signs of a text stand; signs of any script stand alone."""
    for match in _WORD.finditer(text):
        start, end = match.span()
        if not match[0].isascii():
            for at in range(start, end):
                if category(text[at]).startswith("P"):
                    if start < at:
                        yield start, at
                    yield at, at + 1
                    start = at + 1
        if start < end:
            yield start, end
