"""Put slips of spelling right, where it is plain which word of the trade was meant."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from diagnose.rulebase.words_english import (
    ALIKE,
    CONTRACTIONS,
    FILLERS,
    LIGHT,
    NEGATIONS,
    ODD_FORMS,
    PLAIN,
    SPELLINGS,
    SUBJECTS,
    TOGETHER,
)
from diagnose.rulebase.words_text import root, singular

SHORTEST = 4  # letters of a word that may hold a slip
LONG = 8  # letters from which a word may hold two

_EVERYDAY = (
    PLAIN, FILLERS, LIGHT, NEGATIONS, SUBJECTS, SPELLINGS, ALIKE, ODD_FORMS, CONTRACTIONS, TOGETHER,
)  # fmt: skip
"""Words that are no slips, whether the book has them or not."""

Mend = Callable[[str], tuple[str, ...]]


def mender(known: frozenset[str]) -> Mend:
    """Return what puts a misspelt word right against the known ones.

    A word is put right only if its first letter is that of a known word one slip away (two in
    a long word), and no other known word is as near, letters swapped being the nearest; two known
    words run together are parted.

    >>> mend = mender(frozenset({"smooth", "burn", "on", "crystal"}))
    >>> mend("smoth"), mend("burnon"), mend("Smethwick"), mend("crystels")
    (('smooth',), ('burn', 'on'), ('Smethwick',), ('crystal',))
    """
    everyday = frozenset().union(*_EVERYDAY)
    roots = {root(word) for word in known}
    sorted_known = sorted(known)

    @cache
    def mend(word: str) -> tuple[str, ...]:
        if len(word) < SHORTEST or word in everyday or word.isdigit():
            return (word,)
        if singular(word) in known or root(word) in roots:
            return (word,)
        return _parted(word, known) or (_nearest(word, sorted_known) or word,)

    return mend


def _parted(word: str, known: frozenset[str]) -> tuple[str, str] | None:
    """Return two known words that were run together."""
    for at in range(3, len(word) - 1):
        first, second = word[:at], word[at:]
        if first in known and (singular(second) in known or second in LIGHT):
            return (first, second)
    return None


def _nearest(word: str, known: list[str]) -> str | None:
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    meant, most = singular(word), 2 if len(word) >= LONG else 1
    near = process.extract(meant, known, scorer=OSA.distance, score_cutoff=most, limit=None)
    near = [hit for hit in near if hit[0][0] == word[0] and len(hit[0]) >= SHORTEST]
    if len(word) == SHORTEST:  # one letter of four is too much; two letters swapped are not
        near = [hit for hit in near if sorted(hit[0]) == sorted(word)]
    best = [name for name, slips, _ in near if slips == min(hit[1] for hit in near)]
    swapped = [name for name in best if sorted(name) == sorted(meant)]
    best = swapped or best
    return best[0] if len(best) == 1 else None
