"""Take apart what a person types and say which answers it stands for.

A phrase such as "smooth round holes just under the top skin, next to the core" is several
observations at once; each comes back with the words it was read from. What could mean two things
is unclear, and what means nothing is missed: neither is ever guessed.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from diagnose.reject import CALLED, LOOK
from diagnose.rulebase.book import Book
from diagnose.rulebase.words_claims import Claim, claims_of
from diagnose.rulebase.words_cover import Cover, Ground, cover, kept_apart
from diagnose.rulebase.words_fit import Fit, fits
from diagnose.rulebase.words_index import Index, Keep
from diagnose.rulebase.words_size import Length, lengths, ranges_of, size_claims
from diagnose.rulebase.words_spelling import mender
from diagnose.rulebase.words_text import (
    LIGHT_ROOTS,
    NEUTRAL_ROOTS,
    Word,
    parts_all_well,
    parts_in_doubt,
    words_of,
)
from diagnose.rulebase.words_ties import Ties

ALIKE_ENOUGH = 60.0  # percent of letters in common from which words are suggested
LONGEST = 2000  # letters of a phrase that are read; nobody says more in one breath
PLACING = frozenset({
    "above", "against", "along", "around", "at", "behind", "below", "beside", "between", "by",
    "from", "in", "inside", "near", "on", "outside", "over", "round", "to", "toward", "towards",
    "under",
})  # fmt: skip
NEAREST = 3  # suggestions for words that were not understood


@dataclass(frozen=True, slots=True)
class Match:
    """One thing that a phrase says.

    ``kind``: ``look``, ``check`` or ``called`` (the name of a defect, then ``id``); ``score``:
    0 to 100, how near the words are to those of the rule base; ``words``: the part of the phrase.
    """

    kind: str
    id: str
    answer: str
    score: float
    words: str


@dataclass(frozen=True, slots=True)
class Unclear:
    """Words that could mean one of several things, or were said with a doubt: to be asked."""

    words: str
    candidates: tuple[Match, ...]


@dataclass(frozen=True, slots=True)
class Missed:
    """Words that were not understood, with the nearest things that the book knows."""

    words: str
    nearest: tuple[Match, ...]


@dataclass(frozen=True, slots=True)
class Understanding:
    """What a phrase says, what in it is unclear, what was not understood, what it rules out."""

    phrase: str
    matches: tuple[Match, ...]
    unclear: tuple[Unclear, ...]
    missed: tuple[Missed, ...]
    denied: tuple[Match, ...] = ()


class Phrasebook:
    """What people say and what it means.

    >>> from diagnose.rulebase.load import load
    >>> said = Phrasebook(load()).understand("jagged hole in the drag")
    >>> sorted((match.id, match.answer) for match in said.matches)
    [('cavity-wall', 'jagged'), ('fault-form', 'hole'), ('height-in-mould', 'drag')]
    """

    def __init__(self, book: Book, keep: Keep | None = None) -> None:
        """Make ready what answers and defects are called; ``keep`` may keep it for next time."""
        self._index = Index(book, keep or (lambda _, build: build()))
        self._ties = Ties(book, self._index)
        self._telling_where = {name for name, look in book.looks.items() if look.tells_where}
        self._ranges = ranges_of(book)
        self._mend = mender(self._index.known)

    @cached_property
    def _own_words(self) -> dict[str, set[tuple[str, str, str]]]:
        """The book's own sentences of more than one word, with what each means."""
        found: dict[str, set[tuple[str, str, str]]] = {}
        for saying in self._index.sayings:
            if saying.kind != CALLED and len(saying.words) > 1:
                found.setdefault(saying.text.casefold(), set()).add(saying.meaning)
        return found

    def understand(self, phrase: str, known: Mapping[str, str] | None = None) -> Understanding:
        """Return what a phrase says. ``known``: look -> answer, from what was said before."""
        words = words_of(phrase[:LONGEST], self._index.folding, self._mend)
        well = parts_all_well(phrase[:LONGEST])
        fitting = [f for f in fits(self._index, words) if not self._of_the_sound(f, words, well)]
        found = tuple(lengths(phrase[:LONGEST]))
        claims, denied = claims_of(fitting, words, self._index, self._ties)
        sizes = size_claims(found, self._ranges, words, self._index)
        doubted = _doubted(words, parts_in_doubt(phrase), found)
        ground = Ground(words, self._index, self._ties, doubted)
        chosen = cover([*sizes, *((claim,) for claim in claims)], ground, known or {})
        if not (chosen.sure or chosen.unclear):
            own = [
                meaning
                for meaning in self._own_words.get(phrase.strip().casefold(), ())
                if self._ties.possible(*meaning[:2], known or {})
            ]
            if len(own) == 1:  # the book's own sentence, several parts and all
                return Understanding(phrase, (Match(*own[0], 100.0, phrase.strip()),), (), ())
        contrary = kept_apart(denied, chosen.used)
        ruled_out = [claim for claim in contrary if _rules_out(claim, words)]
        missed = tuple(self._missed(phrase, words, fitting, chosen, contrary, ruled_out))
        if ruled_out and any(map(_is_about_a_place, missed)):  # "no holes in the drag": elsewhere?
            ruled_out = []
            missed = tuple(self._missed(phrase, words, fitting, chosen, contrary, ruled_out))
        return Understanding(
            phrase,
            tuple(_match(claim, phrase, words) for claim in chosen.sure),
            tuple(_unclear(group, phrase, words) for group in chosen.unclear),
            missed,
            tuple(_match(claim, phrase, words) for claim in ruled_out),
        )

    def _of_the_sound(self, fit: Fit, words: Sequence[Word], well: frozenset[int]) -> bool:
        """Tell whether a fit says where something is, of things with nothing wrong with them.

        *The drag is sound*: the fault is not in the drag. *Other jobs are fine* says so itself.
        """
        where = fit.saying.kind == LOOK and fit.saying.id in self._telling_where
        return where and words[fit.at[0]].part in well and not parts_all_well(fit.saying.text)

    def _missed(
        self,
        phrase: str,
        words: Sequence[Word],
        fitting: Sequence[Fit],
        chosen: Cover,
        contrary: Sequence[Claim],
        ruled_out: Sequence[Claim],
    ) -> Iterator[Missed]:
        """Yield what was denied to no end, and the runs of words that nothing was made of."""
        used = set(chosen.used)
        roots = {words[place].root for place in used}
        used |= {place for place, word in enumerate(words) if word.root in roots}  # said once more
        for claim in contrary:
            topics = self._index.topics.get(claim.entry, frozenset())
            used |= claim.at | {place for place, word in enumerate(words) if word.root in topics}
            if claim not in ruled_out:
                yield Missed(_text(claim.at, phrase, words), (_match(claim, phrase, words),))
        runs = list(_runs(words, used))
        for run in runs:
            said = _text(run, phrase, words)
            yield Missed(said, self._nearest(said, set(run), fitting))
        if not (used or runs) and phrase[:LONGEST].strip():
            said = phrase[:LONGEST].strip()
            yield Missed(said, self._nearest(said, set(range(len(words))), fitting))
        if rest := phrase[LONGEST:].strip():
            yield Missed(rest, ())

    def _nearest(self, said: str, run: set[int], fitting: Sequence[Fit]) -> tuple[Match, ...]:
        """Return what a run of words comes nearest to."""
        near: dict[tuple[str, str, str], Match] = {}
        for fit in sorted(fitting, key=lambda fit: fit.score * fit.strength, reverse=True):
            if run.intersection(fit.at):
                found = Match(*fit.saying.meaning, fit.score, said)
                near.setdefault(fit.saying.meaning, found)
        return tuple(near.values())[:NEAREST] or tuple(self._alike(said))

    def _alike(self, said: str) -> Iterator[Match]:
        """Yield the meanings of the sayings that look most like a text, letter by letter."""
        from rapidfuzz import fuzz, process

        texts = [saying.text for saying in self._index.sayings]
        alike = process.extract(
            said, texts, scorer=fuzz.ratio, score_cutoff=ALIKE_ENOUGH, limit=NEAREST
        )
        for _, score, number in alike:
            yield Match(*self._index.sayings[number].meaning, score, said)


def _is_about_a_place(part: Missed) -> bool:
    """Tell whether words that were not understood begin like a place."""
    return part.words.split(maxsplit=1)[0].casefold() in PLACING


def _rules_out(claim: Claim, words: Sequence[Word]) -> bool:
    """Tell whether a denied claim says of a look's answer, with a "not" or a "no", it is not so."""
    return claim.kind == LOOK and any(words[place].negated for place in claim.at)


def _doubted(
    words: Sequence[Word], parts: frozenset[int], found: Sequence[Length]
) -> frozenset[int]:
    """Return the words that were said with a doubt, or that only give a length its place."""
    places = [(length.start, length.end) for length in found if length.elsewhere]
    return frozenset(
        p
        for p, word in enumerate(words)
        if word.part in parts or any(a < word.end and word.start < b for a, b in places)
    )


def _match(claim: Claim, phrase: str, words: Sequence[Word]) -> Match:
    said = _text(claim.at, phrase, words)
    return Match(claim.kind, claim.id, claim.answer, round(claim.score, 1), said)


def _unclear(group: Sequence[Claim], phrase: str, words: Sequence[Word]) -> Unclear:
    at = frozenset[int]().union(*(claim.at for claim in group))
    return Unclear(_text(at, phrase, words), tuple(_match(one, phrase, words) for one in group))


def _text(at: Collection[int], phrase: str, words: Sequence[Word]) -> str:
    """Return the part of the phrase from the first to the last of some of its words."""
    return phrase[min(words[p].start for p in at) : max(words[p].end for p in at)]


def _runs(words: Sequence[Word], used: set[int]) -> Iterator[list[int]]:
    """Yield the runs of words in one part of the sentence that are not used and tell something."""
    run: list[int] = []
    for place, word in enumerate(words):
        broken = place in used or (run and words[run[-1]].part != word.part)
        if broken and run:
            yield from _telling(run, words)
            run = []
        if place not in used:
            run.append(place)
    yield from _telling(run, words)


def _telling(run: list[int], words: Sequence[Word]) -> Iterator[list[int]]:
    if any(words[p].root not in LIGHT_ROOTS | NEUTRAL_ROOTS for p in run):
        yield run
