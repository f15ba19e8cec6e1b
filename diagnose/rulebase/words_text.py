"""Take a phrase apart into the words that tell something, each with its place and its negation.

The answers of the rule base and what people type go through the same mill, so that both come out
alike: American spelling, plurals, verb forms, near-synonyms and the trade's synonyms are folded,
words that carry nothing are dropped, and what stands under a "not" is marked.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import cache
from typing import NamedTuple

from diagnose.rulebase.book import Term
from diagnose.rulebase.words_english import (
    ALIKE,
    CONTRACTIONS,
    FILLERS,
    HEDGES,
    LIGHT,
    NEGATIONS,
    NEUTRAL,
    ODD_FORMS,
    SPELLINGS,
    SUBJECTS,
    TOGETHER,
    WELL,
)

_PIECE = re.compile(r"[a-z]+(?:'[a-z]+)?|\d+|[,;:.!?()]")
_SMALL = str.maketrans({**{chr(c): chr(c + 32) for c in range(65, 91)}, "\u2019": "'"})
_HEDGE = re.compile(HEDGES)
_WELL = re.compile(WELL)
_NOES = NEGATIONS | {short for short, long in CONTRACTIONS.items() if "not" in long.split()}
_SAYS_NO = re.compile(rf"\b(?:{'|'.join(sorted(_NOES))}|[a-z]+n't)\b")
_STOPS = frozenset(",;:.!?()") | {"and", "but"}
_VOWELS = frozenset("aeiouy")

Folding = Mapping[str, list[tuple[tuple[str, ...], tuple[str, ...]]]]
"""First root of a synonym -> its roots and the roots that stand for it, longest synonym first."""


class Word(NamedTuple):
    """One telling word of a text.

    ``root``: what it is folded to; ``raw``: the word itself, plural and spelling set right;
    ``start`` and ``end``: where it stands; ``part``: the part of the sentence it stands in, counted
    by stops and "but"; ``negated``: it is under a "not" or a "no"; ``no``: for the first word under
    one that word itself, and then ``start`` is where it stands; ``of``: an "of" follows.
    """

    root: str
    raw: str
    start: int
    end: int
    part: int
    negated: bool = False
    no: str = ""
    of: bool = False


@cache
def root(word: str) -> str:
    """Return the root to which a small-letter word is folded.

    >>> [root(w) for w in ("holes", "crumbly", "crumbled", "gray", "sunk", "baked")]
    ['hole', 'crumbl', 'crumbl', 'grey', 'sink', 'bake']
    """
    for table in (SPELLINGS, ALIKE, ODD_FORMS):
        word = table.get(word, word)
    word = _without_ending(singular(word))
    for table in (ALIKE, ODD_FORMS):
        word = table.get(word, word)
    if len(word) >= 5 and word[-1] in "ey" and word[-2] not in "aeou":
        return word[:-1]
    return word


def _without_ending(word: str) -> str:
    if len(word) < 4:
        return word
    for ending in ("ing", "ed"):
        rest = word[: -len(ending)]
        if word.endswith(ending) and len(rest) >= 3 and _VOWELS & set(rest) and rest[-1] != "e":
            return _closed(rest)
    return word


def _closed(rest: str) -> str:
    """Mend what is left of a verb without its ending: *chipp* to *chip*, *bak* to *bake*."""
    if rest[-1] == rest[-2] and rest[-1] not in "lsz":
        return rest[:-1]
    if len(rest) == 3 and rest[1] in _VOWELS and not {rest[0], rest[2]} & (_VOWELS | {"w", "x"}):
        return rest + "e"
    return rest


@cache
def singular(word: str) -> str:
    """Return a small-letter word in British spelling without the ending of a plural.

    >>> [singular(w) for w in ("boxes", "molds", "gas", "parting")]
    ['box', 'mould', 'gas', 'parting']
    """
    word = SPELLINGS.get(word, word)
    if len(word) < 4 or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("sses", "ches", "shes", "xes")):
        return word[:-2]
    return word[:-1]


SUBJECT_ROOTS = frozenset(map(root, SUBJECTS))
LIGHT_ROOTS = frozenset(map(root, LIGHT))
NEUTRAL_ROOTS = frozenset(map(root, NEUTRAL))


def words_of(
    text: str, folding: Folding, mend: Callable[[str], tuple[str, ...]] | None = None
) -> list[Word]:
    """Return the telling words of a text, in order.

    ``mend`` puts a misspelt word right; it may make two of one.

    >>> [(w.root, w.negated) for w in words_of("The walls aren't smooth, no sand in them", {})]
    [('wall', False), ('smooth', True), ('sand', True), ('in', False), ('them', False)]
    """
    found: list[Word] = []
    part, start, no, reached = 0, 0, "", False  # ``no``: the "not" that we are under
    for match in _PIECE.finditer(text.translate(_SMALL)):
        if match[0] == "of" and found:
            found[-1] = found[-1]._replace(of=True)
        for word in _plain(match[0]):
            if word in NEGATIONS:
                start, no, reached, first = match.start(), word, False, word
            elif word in _STOPS:
                no, part = "", part + (word != "and")
            else:
                for right in mend(word) if mend else (word,):
                    name, raw, light = _telling(right)
                    if not no or (light and reached):
                        no = ""
                        found.append(Word(name, raw, match.start(), match.end(), part))
                        continue
                    begin = start if first else match.start()
                    found.append(Word(name, raw, begin, match.end(), part, True, first))
                    first, reached = "", reached or not light
    return _folded(found, folding)


@cache
def _plain(typed: str) -> tuple[str, ...]:
    """Return a piece of text as plain words without fillers: *isn't* as *not*."""
    plain = typed[:-2] if typed.endswith("'s") else typed.replace("'", "")
    spelled = CONTRACTIONS.get(plain) or TOGETHER.get(plain) or plain
    return tuple(word for word in spelled.split() if word not in FILLERS)


@cache
def _telling(word: str) -> tuple[str, str, bool]:
    """Return the root of a word, the word set right, and whether it is a small one."""
    return root(word), singular(word), root(word) in LIGHT_ROOTS


def says_no(text: str) -> bool:
    """Tell whether there is a "not" or a "no" in a text.

    >>> says_no("vents weren't watched"), says_no("knotty")
    (True, False)
    """
    return bool(_SAYS_NO.search(text.translate(_SMALL)))


def parts_in_doubt(text: str) -> frozenset[int]:
    """Return the parts of a text in which somebody says that they do not know.

    >>> parts_in_doubt("round hole, not sure about the colour")
    frozenset({1})
    """
    return _parts_with(_HEDGE, text)


def parts_all_well(text: str) -> frozenset[int]:
    """Return the parts of a text that say of something that there is nothing wrong with it.

    >>> parts_all_well("holes in the cope, the drag is sound")
    frozenset({1})
    """
    return _parts_with(_WELL, text)


def _parts_with(pattern: re.Pattern[str], text: str) -> frozenset[int]:
    """Return the parts of a text in which a pattern is found."""
    small = text.translate(_SMALL)
    found = [match.start() for match in pattern.finditer(small)]
    stops = [match.start() for match in _PIECE.finditer(small) if match[0] in _STOPS - {"and"}]
    return frozenset(sum(stop < start for stop in stops) for start in found)


def _folded(words: list[Word], folding: Folding) -> list[Word]:
    """Put the trade's leading word in the place of its synonyms."""
    at = 0
    while at < len(words):
        for raws, instead in folding.get(words[at].raw, ()):
            run = words[at : at + len(raws)]
            if len(raws) == 1 or tuple(word.raw for word in run) == raws:
                raw, end = " ".join(raws), run[-1].end
                new = [run[0]._replace(root=name, raw=raw, end=end) for name in instead]
                words[at : at + len(raws)] = new
                at += len(new) - 1
                break
        at += 1
    return words


def folding_of(glossary: Mapping[str, Term]) -> Folding:
    """Return how the synonyms of a glossary fold into its terms.

    A synonym made of words of its own term stays as it is: *print* does not become *core print*.
    A synonym of two terms stands for neither.

    >>> terms = {"riser": Term(means="", source=(), also=("feeder", "sink head"))}
    >>> folding_of(terms)["sink"]
    [(('sink', 'head'), ('riser',))]
    """
    meant: dict[tuple[str, ...], set[tuple[str, ...]]] = {}
    for name, term in glossary.items():
        leading = words_of(name, {})
        own = {word.raw for word in leading}
        for other in term.also:
            raws = tuple(word.raw for word in words_of(other, {}))
            if raws and leading and not own.issuperset(raws):
                meant.setdefault(raws, set()).add(tuple(word.root for word in leading))
    folding: dict[str, list[tuple[tuple[str, ...], tuple[str, ...]]]] = {}
    for raws, leaders in sorted(meant.items(), key=lambda item: -len(item[0])):
        if len(leaders) == 1:
            folding.setdefault(raws[0], []).append((raws, next(iter(leaders))))
    return folding
