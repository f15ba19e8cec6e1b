"""Decide which sayings that fit a phrase may be believed, and what each of them claims.

Few words are so rare that they mean one thing only. The rest must stand beside the thing that the
look or the check is about, and must not be half of another thing's name.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from diagnose.reject import CALLED
from diagnose.rulebase.words_english import ABSENT
from diagnose.rulebase.words_fit import Fit, by_synonym
from diagnose.rulebase.words_index import Index
from diagnose.rulebase.words_text import LIGHT_ROOTS, NEUTRAL_ROOTS, SUBJECT_ROOTS, Word
from diagnose.rulebase.words_ties import Ties

SURE = 80.0
"""Percent of a saying from which it is taken as said."""

DOUBTFUL = 70.0
"""Percent given to common words that may or may not mean what they fit: to be asked."""

EXACT = 99.0  # percent from which a saying is there word for word
SCARCE = 2  # entries that may use words for them to mean something all by themselves
WHOLES = frozenset({"mould", "box", "pattern"})  # the top of these is the top of the casting
TURNED_ROUND = 0.95  # of the score of an answer that is said by denying the other


@dataclass(frozen=True, slots=True)
class Claim:
    """What a phrase seems to say: a meaning, and the words that it takes.

    ``needed``: those of them that it cannot do without.
    """

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

    @property
    def force(self) -> float:
        """How strongly the words speak for it."""
        return self.strength * self.score


def claims_of(
    fits: Iterable[Fit], words: Sequence[Word], index: Index, ties: Ties
) -> tuple[list[Claim], list[Claim]]:
    """Return what a phrase claims, strongest first, and what it denies."""
    alike: dict[tuple[tuple[str, str, str], bool], list[Fit]] = {}
    for fit in fits:
        if fit.score >= SURE and (believed := _believed(fit, words, index, ties)):
            alike.setdefault((fit.saying.meaning, fit.denied), []).append(believed)
    said: list[Claim] = []
    denied: list[Claim] = []
    for (_, contrary), group in alike.items():
        for claim in _claims(group, words):
            other = _turned_round(claim, group, words, index, ties) if contrary else claim
            if other is None:
                denied.append(claim)
            else:
                said.append(other)
    return sorted(said, key=lambda claim: -claim.force), denied


def _claims(group: Sequence[Fit], words: Sequence[Word]) -> Iterator[Claim]:
    """Yield what fits of one meaning claim, one claim for each set of words they stand on.

    Needed are the words that a fit shares with every smaller fit inside it.
    """
    left = sorted(group, key=lambda fit: -fit.strength * fit.score)
    while left:
        best, at = left[0], frozenset(left[0].at)
        inside = [fit for fit in left if at.issuperset(fit.at)]
        needed = at.intersection(*(fit.at for fit in inside)) or at
        content = frozenset(p for p in needed if words[p].root not in LIGHT_ROOTS)
        yield Claim(*best.saying.meaning, best.score, best.strength, at, content or at)
        left = [fit for fit in left if fit not in inside]


def _turned_round(
    claim: Claim, group: Sequence[Fit], words: Sequence[Word], index: Index, ties: Ties
) -> Claim | None:
    """Return what denying one of two answers claims; None where it claims nothing.

    *The core was not damp* gives the other answer; to speak of a vent does not deny that there is
    no vent, and to deny one of many answers leaves the others open.
    """
    other = ties.other_answer(claim.kind, claim.id, claim.answer)
    plain = any(fit.full and not any(w.negated for w in fit.saying.words) for fit in group)
    telling = [words[place] for place in claim.at if words[place].root not in NEUTRAL_ROOTS]
    scarce = len(telling) == 1 and index.uses[telling[0].root] <= SCARCE
    if other is None or not plain or not (len(telling) > 1 or scarce):
        return None
    return replace(claim, answer=other, score=claim.score * TURNED_ROUND)


def _believed(fit: Fit, words: Sequence[Word], index: Index, ties: Ties) -> Fit | None:
    """Return a fit that may be believed, one with a low score that must be asked, or None.

    Common words that are all that was said, or the name of a defect, are worth a question.
    """
    taken = [words[place] for place in fit.at]
    alone = all(word.part != taken[0].part or word in taken for word in words)
    said = {word.root: word for word in fit.saying.words}
    synonym = any(by_synonym(word, said[word.root]) for word in taken)
    if fit.saying.kind == CALLED:
        if _where_nothing_is(fit, words):
            return None
        same = all(word.raw == said[word.root].raw for word in taken)
        if len(taken) > 1 or (same and (alone or index.uses[taken[0].root] <= SCARCE)):
            return fit
        worth_asking = same and (alone or taken[0].root not in SUBJECT_ROOTS)
    elif _backed(fit, words, index, ties):
        return fit
    else:
        worth_asking = alone and not synonym and fit.score >= EXACT
    return replace(fit, score=DOUBTFUL) if worth_asking and not fit.denied else None


def _backed(fit: Fit, words: Sequence[Word], index: Index, ties: Ties) -> bool:
    """Tell whether the words of a fit mean this look or check here, and not something else."""
    taken = [words[place] for place in fit.at]
    roots = frozenset(word.root for word in taken)
    topics = index.topics[fit.saying.entry]
    first_look = fit.saying.id in ties.first_looks
    if len(roots) == 1:
        if all(by_synonym(taken[0], said) for said in fit.saying.words if said.root in roots):
            return False
        if roots <= SUBJECT_ROOTS and taken[0].no not in ABSENT:
            part = [word for word in words if word.part == taken[0].part]
            said_plainly = part == taken and not taken[0].negated
            return first_look or (said_plainly and bool(roots & topics))
    if not first_look and (_half_a_name(fit, words, topics) or _where_nothing_is(fit, words)):
        return False
    owners = index.owners(roots)
    if roots & topics or (owners == 1 and len(roots) > 1):
        return True
    content = roots - LIGHT_ROOTS
    about = _subjects(words, taken[0].part) - roots
    own_subject = content & SUBJECT_ROOTS and not ties.builds_on_something(fit.saying.id)
    if topics and about and not own_subject:
        return bool(about & topics)
    placed = taken[0].root in LIGHT_ROOTS  # at the joint, on the side
    if (len(content) > 1 or placed) and fit.score >= EXACT:
        return True
    return owners <= SCARCE and not (topics and content <= SUBJECT_ROOTS)


def _half_a_name(fit: Fit, words: Sequence[Word], topics: frozenset[str]) -> bool:
    """Tell whether a fit ends inside the name of another thing.

    *Core* is only half of *core box*, and the *bottom* of a bore is not the bottom of the mould.
    """
    for inside, beside in ((fit.at[0], fit.at[0] - 1), (fit.at[-1], fit.at[-1] + 1)):
        if 0 <= beside < len(words) and words[inside].root in SUBJECT_ROOTS:
            left, right = words[min(inside, beside)], words[max(inside, beside)]
            together = right.start - left.end == 1 or left.of
            if together and words[beside].root in SUBJECT_ROOTS - WHOLES - topics:
                return True
    return False


def _where_nothing_is(fit: Fit, words: Sequence[Word]) -> bool:
    """Tell whether a fit only says where there is nothing: no holes *in the drag*."""
    first = before = fit.at[0]
    while before and words[before - 1].root in LIGHT_ROOTS:
        before -= 1
    placed = before < first or words[first].root in LIGHT_ROOTS
    if not (placed and before) or words[first].negated:
        return False
    return words[before - 1].negated and words[before - 1].part == words[first].part


def _subjects(words: Sequence[Word], part: int) -> frozenset[str]:
    """Return the things that a part of a sentence is about; failing any, the part before it."""
    for number in range(part, -1, -1):
        here = SUBJECT_ROOTS.intersection(word.root for word in words if word.part == number)
        if here:
            return here
    return frozenset()
