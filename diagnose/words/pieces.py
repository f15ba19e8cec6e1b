"""Cut text into the word pieces that the encoder knows, and remember where each stood.

Greedy longest-match pieces of lower-case words, the scheme that the base encoder was trained with
(Wu and others 2016, "Google's neural machine translation system", section 4.1; from memory).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple
from unicodedata import category, normalize

_WORD = re.compile(r"[^\W_]+|[^\w\s]|_")
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

    def pieces(self, text: str) -> list[Piece]:
        """Return the pieces of a text in order, without the marks of its beginning and end."""
        return [
            Piece(number, match.start(), match.end())
            for match in _WORD.finditer(text)
            for number in self._cut(match[0])
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
