"""Choose what a phrase says from all the sayings that fit it, and keep apart what is unclear.

A wrong finding taken down in silence does more harm than one asked for once more: what could be
two things is unclear, a common word alone means nothing, and words that belong to one thing are
not used for another.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from diagnose.reject import CALLED, CHECK, LOOK
from diagnose.rulebase.book import Book
from diagnose.rulebase.words_english import ABSENT
from diagnose.rulebase.words_fit import Fit, by_synonym
from diagnose.rulebase.words_index import Index
from diagnose.rulebase.words_size import Length, Range, answers_for
from diagnose.rulebase.words_text import LIGHT_ROOTS, NEUTRAL_ROOTS, SUBJECT_ROOTS, Word

SURE = 80.0
"""Percent of a saying from which it is taken as said."""

DOUBTFUL = 70.0
"""Percent given to a common word that may or may not be the name of a defect: to be asked."""

SCARCE = 2  # entries that may use a word for it to mean something all by itself
EXACT = 99.0  # percent from which a saying of several words is there word for word
RIVAL = 0.86  # of the strength of the best claim: from here another is about as good
APART = 4  # words between a thing and what is said of it


@dataclass(frozen=True, slots=True)
class Claim:
    """What a phrase seems to say: a meaning, and the words that it cannot do without."""

    kind: str
    id: str
    answer: str
    score: float
    strength: float
    at: frozenset[int]
    needed: frozenset[int]

    @property
    def entry(self) -> tuple[str, str]:
        """What it answers; all names of defects answer the same question."""
        return (self.kind, "" if self.kind == CALLED else self.id)

    @property
    def meaning(self) -> tuple[str, str, str]:
        """What it says, whatever the words."""
        return (self.kind, self.id, self.answer)


@dataclass(frozen=True, slots=True)
class Cover:
    """What a phrase says: sure claims, groups of rival claims, and claims that it denies."""

    sure: tuple[Claim, ...]
    unclear: tuple[tuple[Claim, ...], ...]
    denied: tuple[Claim, ...]

    @property
    def used(self) -> frozenset[int]:
        """The places of the words that it makes something of."""
        claims = (*self.sure, *(claim for group in self.unclear for claim in group))
        return frozenset[int]().union(*(claim.at for claim in claims))


class Reader:
    """Reads one phrase after another against one book."""

    def __init__(self, book: Book, index: Index) -> None:
        self._index = index
        self._only_if = {name: look.only_if for name, look in book.looks.items() if look.only_if}
        self._roots = {look for only_if in self._only_if.values() for look in only_if}
        self._mostly = {
            name: {(look, answer) for look in self._roots for answer in _mostly(book, name, look)}
            for name in book.defects
        }
        self._answers = {LOOK: {n: tuple(look.answers) for n, look in book.looks.items()}}
        self._answers[CHECK] = {n: tuple(check.answers) for n, check in book.checks.items()}
        self._names = {
            saying.id: {word.root for word in saying.words}
            for saying in reversed(index.sayings)
            if saying.kind == CALLED
        }
        self._called: dict[str, set[str]] = {}
        for saying in index.sayings:
            if saying.kind == CALLED:
                for word in saying.words:
                    self._called.setdefault(word.root, set()).add(saying.id)

    def cover(
        self,
        words: Sequence[Word],
        fits: Sequence[Fit],
        doubted: frozenset[int],
        known: Mapping[str, str],
        sizes: Sequence[tuple[Claim, ...]] = (),
    ) -> Cover:
        """Return what the words say.

        ``doubted``: the words that were said with a doubt; ``known``: look -> answer found before;
        ``sizes``: what the lengths claim.
        """
        claims, denied = self._claims(words, fits)
        claims = [group[0] for group in sizes if len(group) == 1] + claims
        first = self._choose(claims, words, doubted, known)
        said = {c.id: c.answer for c in first.sure if c.kind == LOOK and c.id in self._roots}
        chosen = self._choose(claims, words, doubted, {**known, **said}) if said else first
        between = tuple(group for group in sizes if len(group) > 1)
        chosen = replace(chosen, unclear=(*chosen.unclear, *between))
        left = tuple(claim for claim in denied if not claim.needed & chosen.used)
        return replace(chosen, denied=_apart(left))

    def sizes(
        self, words: Sequence[Word], found: Iterable[Length], ranges: Sequence[Range]
    ) -> Iterator[tuple[Claim, ...]]:
        """Yield what lengths claim; several claims where a length lies on a limit.

        A length counts where the phrase says that it goes across, or names what the look is about.
        """
        for length in found:
            if length.elsewhere:
                continue
            at = frozenset(
                p for p, w in enumerate(words) if length.start <= w.start and w.end <= length.end
            )
            fitting = answers_for(length, ranges)
            about = {word.root for word in words}
            fitting = [
                one
                for one in fitting
                if at and (length.across or about & self._index.topics.get((LOOK, one.look), set()))
            ]
            if fitting:
                yield tuple(
                    Claim(LOOK, one.look, one.answer, 100.0, SURE, at, at) for one in fitting
                )

    # from fits to claims

    def _claims(
        self, words: Sequence[Word], fits: Iterable[Fit]
    ) -> tuple[list[Claim], list[Claim]]:
        """Return what is claimed and what is denied, strongest first."""
        alike: dict[tuple[tuple[str, str, str], bool], list[Fit]] = {}
        for fit in fits:
            if fit.score < SURE:
                continue
            if self._backed(fit, words):
                alike.setdefault((fit.saying.meaning, fit.denied), []).append(fit)
            elif _bare_name(fit, words):
                doubtful = replace(fit, score=DOUBTFUL)
                alike.setdefault((fit.saying.meaning, fit.denied), []).append(doubtful)
        said: list[Claim] = []
        denied: list[Claim] = []
        for (_, contrary), group in alike.items():
            for claim in _claims_of(group, words):
                if not contrary:
                    said.append(claim)
                elif _may_turn(group) and (other := self._other(claim, words)):
                    said.append(other)
                else:
                    denied.append(claim)
        return sorted(said, key=_force, reverse=True), denied

    def _other(self, claim: Claim, words: Sequence[Word]) -> Claim | None:
        """Return the claim of the other of two answers, where a phrase denies the one."""
        answers = self._answers.get(claim.kind, {}).get(claim.id, ())
        if len(answers) != 2:
            return None
        content = [words[p] for p in claim.at if words[p].root in self._index.uses]
        said_no = any(word.negated for word in content)
        telling = sum(word.root not in NEUTRAL_ROOTS for word in content)
        if telling < 2 and not (said_no and self._index.uses[content[0].root] <= SCARCE):
            return None
        other = next(name for name in answers if name != claim.answer)
        return replace(claim, answer=other, score=claim.score * 0.95)

    def _backed(self, fit: Fit, words: Sequence[Word]) -> bool:
        """Tell whether the words of a fit mean this entry here, and not something else.

        Words that only one entry has together speak for themselves; others need the thing that
        the entry is about, in the same part of the sentence or the nearest one before.
        """
        taken = [words[p] for p in fit.at]
        roots = frozenset(word.root for word in taken)
        content = roots - LIGHT_ROOTS
        topics = self._index.topics.get(fit.saying.entry, frozenset())
        owners = self._index.owners(roots)
        if len(roots) == 1 and self._other_word(fit, taken[0]):
            return False
        part = taken[0].part
        alone = all(word.part != part or word in taken for word in words)
        if fit.saying.kind == CALLED:
            return alone or owners <= SCARCE or len(roots) > 1
        if roots <= SUBJECT_ROOTS and len(roots) == 1 and taken[0].no not in ABSENT:
            return fit.saying.id in self._roots or (alone and bool(roots & topics))
        if self._part_of_another(fit, words, topics):
            return False
        if _at_nothing(fit, words) and fit.saying.id not in self._roots:
            return False
        if roots & topics or (owners == 1 and len(roots) > 1):
            return True
        about = _subjects(words, part) - roots
        own = content & SUBJECT_ROOTS and fit.saying.id not in self._only_if
        if topics and about and not own:
            return bool(about & topics)
        placed = taken[0].root in LIGHT_ROOTS  # at the joint, on the side
        exact = (len(content) > 1 or placed) and fit.score >= EXACT
        if topics and content <= SUBJECT_ROOTS and not exact:
            return False
        return exact or owners <= SCARCE

    def _part_of_another(self, fit: Fit, words: Sequence[Word], topics: frozenset[str]) -> bool:
        """Tell whether a fit only has half of a name in it: *core* of *core box*, say."""
        if fit.saying.id in self._roots:
            return False
        for inside, beside in ((fit.at[0], fit.at[0] - 1), (fit.at[-1], fit.at[-1] + 1)):
            if 0 <= beside < len(words) and words[inside].root in SUBJECT_ROOTS:
                left, right = sorted((words[inside], words[beside]), key=lambda word: word.start)
                if right.start - left.end == 1 and words[beside].root in SUBJECT_ROOTS - topics:
                    return True
        return False

    def _other_word(self, fit: Fit, word: Word) -> bool:
        """Tell whether a synonym stands in the place of the only word of a saying."""
        return all(by_synonym(word, said) for said in fit.saying.words if said.root == word.root)

    # from claims to a cover

    def _choose(
        self,
        claims: Sequence[Claim],
        words: Sequence[Word],
        doubted: frozenset[int],
        known: Mapping[str, str],
    ) -> Cover:
        sure: list[Claim] = []
        unclear: list[tuple[Claim, ...]] = []
        open_claims = [claim for claim in claims if self._possible(claim, known)]
        for claim in open_claims:
            taken = [*sure, *(one for group in unclear for one in group)]
            apart = (
                group for group in unclear if not any(self._builds_on(c, claim) for c in group)
            )
            if not self._free(claim, [*sure, *(c for group in apart for c in group)], words):
                continue
            rivals = self._rivals(claim, open_claims, words)
            same = [one for one in sure if one.entry == claim.entry]
            if any(one.meaning == claim.meaning for one in taken):
                sure = [_joined(one, claim) for one in sure]
            elif same:
                sure = [one for one in sure if one.entry != claim.entry]
                unclear.append((*same, claim))
            elif rivals or claim.at & doubted or claim.score < SURE:
                unclear.append((claim, *rivals))
            else:
                sure.append(claim)
        asked = {one.entry for group in unclear for one in group if len(group) > 1}
        sure = sorted((c for c in sure if c.entry not in asked), key=lambda c: min(c.at))
        return Cover(tuple(sure), tuple(unclear), ())

    def _possible(self, claim: Claim, known: Mapping[str, str]) -> bool:
        """Tell whether a look makes sense with what is known of the looks it builds on."""
        if claim.kind != LOOK:
            return True
        only_if = self._only_if.get(claim.id, {})
        return all(look not in known or known[look] in fine for look, fine in only_if.items())

    def _free(self, claim: Claim, taken: Iterable[Claim], words: Sequence[Word]) -> bool:
        """Tell whether the words of a claim still mean something beside the claims taken."""
        own = frozenset(p for p in claim.needed if words[p].root not in SUBJECT_ROOTS)
        for one in taken:
            if self._builds_on(one, claim):
                continue
            if one.entry == claim.entry and claim.needed <= one.at:
                return False
            if claim.needed <= one.needed:
                return False
            if own and own <= one.needed:
                return False
            if not own and self._speaks_of(one, claim, words):
                return False
        return True

    def _builds_on(self, one: Claim, other: Claim) -> bool:
        """Tell whether a claim only makes sense, or mostly goes, with the answer of the other.

        A wall can only be smooth where there is a hole; what is called a blow is mostly a hole.
        """
        if other.kind != LOOK:
            return False
        if one.kind == CALLED:
            return (other.id, other.answer) in self._mostly.get(one.id, ())
        return one.kind == LOOK and other.answer in self._only_if.get(one.id, {}).get(other.id, ())

    def _speaks_of(self, one: Claim, claim: Claim, words: Sequence[Word]) -> bool:
        """Tell whether the only words of ``claim`` name the thing that ``one`` speaks of."""
        topics = self._index.topics.get(one.entry, frozenset())
        return all(
            words[p].root in topics
            and any(abs(p - q) <= APART and words[p].part == words[q].part for q in one.at)
            for p in claim.needed
        )

    def _rivals(
        self, claim: Claim, claims: Sequence[Claim], words: Sequence[Word]
    ) -> tuple[Claim, ...]:
        """Return the claims that the same words support about as well."""
        found = [
            other
            for other in claims
            if other.meaning != claim.meaning
            and not other.at < claim.at
            and other.strength * other.score >= RIVAL * claim.strength * claim.score
            and (
                other.needed == claim.needed
                or len(other.needed & claim.needed) * 2 > max(len(other.needed), len(claim.needed))
            )
            and not self._builds_on(other, claim)
            and not self._builds_on(claim, other)
        ]
        return (*found, *self._namesakes(claim, words))

    def _namesakes(self, claim: Claim, words: Sequence[Word]) -> Iterable[Claim]:
        """Return the other defects that a name shared by several could mean."""
        if claim.kind != CALLED:
            return []
        telling = {words[p].root for p in claim.at} - SUBJECT_ROOTS
        if telling and {words[p].root for p in claim.at} != self._names[claim.id]:
            alike = {name for name, roots in self._names.items() if telling <= roots}
        else:
            alike = set()
        first = min(claim.at)
        if len(claim.needed) == 1 and first and words[first - 1].part == words[first].part:
            before = {words[first - 1].root} - SUBJECT_ROOTS - NEUTRAL_ROOTS
            alike |= {name for root in before for name in self._called.get(root, ())}
        return [replace(claim, id=name) for name in sorted(alike - {claim.id})]


def _force(claim: Claim) -> float:
    return claim.strength * claim.score


def _mostly(book: Book, defect: str, look: str) -> list[str]:
    """Return the answers of a look that a defect shows in at least half of its cases."""
    shown = book.defects[defect].shows.get(look, {})
    return [answer for answer, figure in shown.items() if book.figure(figure) >= 0.5]


def _claims_of(group: Sequence[Fit], words: Sequence[Word]) -> Iterator[Claim]:
    """Yield what fits of one meaning claim, one claim for each set of words they stand on.

    Needed are the words that a fit shares with every smaller fit inside it.
    """
    best_first = sorted(group, key=lambda fit: fit.strength * fit.score, reverse=True)
    while best_first:
        best = best_first[0]
        at = frozenset(best.at)
        inside = [fit for fit in best_first if at.issuperset(fit.at)]
        needed = at.intersection(*(fit.at for fit in inside)) or at
        content = frozenset(p for p in needed if words[p].root not in LIGHT_ROOTS)
        yield Claim(*best.saying.meaning, best.score, best.strength, at, content or at)
        best_first = [fit for fit in best_first if fit not in inside]


def _bare_name(fit: Fit, words: Sequence[Word]) -> bool:
    """Tell whether a fit is the one-word name of a defect, a word with other uses: *drop*."""
    if fit.saying.kind != CALLED or fit.denied or len(fit.saying.words) > 1:
        return False
    return fit.saying.words[0].raw == words[fit.at[0]].raw


def _may_turn(group: Sequence[Fit]) -> bool:
    """Tell whether to deny one of two answers is to give the other.

    *The core was not damp* does; to speak of a vent does not deny that there is *no vent*.
    """
    return any(fit.full and not any(w.negated for w in fit.saying.words) for fit in group)


def _joined(one: Claim, other: Claim) -> Claim:
    """Return a claim that stands on the words of both where they mean the same."""
    if one.meaning != other.meaning:
        return one
    return replace(one, at=one.at | other.at, needed=one.needed | other.needed)


def _at_nothing(fit: Fit, words: Sequence[Word]) -> bool:
    """Tell whether a fit only says where there is nothing: no holes *in the drag*."""
    first = before = fit.at[0]
    while before and words[before - 1].root in LIGHT_ROOTS:
        before -= 1
    placed = before < first or words[first].root in LIGHT_ROOTS
    if not (placed and before) or words[first].negated:
        return False
    return words[before - 1].negated and words[before - 1].part == words[first].part


def _apart(claims: Sequence[Claim]) -> tuple[Claim, ...]:
    """Return claims of which no two take the same word, the strongest of each kept."""
    kept: list[Claim] = []
    for claim in sorted(claims, key=_force, reverse=True):
        if not any(claim.at & one.at for one in kept):
            kept.append(claim)
    return tuple(kept)


def _subjects(words: Sequence[Word], part: int) -> set[str]:
    """Return the things that a part of a sentence is about; failing any, the part before it."""
    for number in range(part, -1, -1):
        here = {w.root for w in words if w.part == number and w.root in SUBJECT_ROOTS}
        if here:
            return here
    return set()
