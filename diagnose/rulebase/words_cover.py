"""Choose what a phrase says from all that it seems to claim, and keep apart what is unclear.

A wrong finding taken down in silence does more harm than one asked for once more: what could be
two things is unclear, and words that belong to one thing are not used for another.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from diagnose.reject import CALLED, LOOK
from diagnose.rulebase.words_claims import SURE, Claim
from diagnose.rulebase.words_index import Index
from diagnose.rulebase.words_text import NEUTRAL_ROOTS, SUBJECT_ROOTS, Word
from diagnose.rulebase.words_ties import Ties

RIVAL = 0.86  # of the force of the best claim: from here another is about as good
APART = 4  # words between a thing and what is said of it


@dataclass(frozen=True, slots=True)
class Cover:
    """What a phrase says: sure claims in order, and groups of claims of which one may be meant."""

    sure: tuple[Claim, ...]
    unclear: tuple[tuple[Claim, ...], ...]

    @property
    def used(self) -> frozenset[int]:
        """The places of the words that it makes something of."""
        claims = (*self.sure, *(claim for group in self.unclear for claim in group))
        return frozenset[int]().union(*(claim.at for claim in claims))


@dataclass(frozen=True, slots=True)
class Ground:
    """What covers are chosen on: the words of a phrase, and what the book ties together.

    ``doubted``: places of the words that were said with a doubt.
    """

    words: Sequence[Word]
    index: Index
    ties: Ties
    doubted: frozenset[int] = field(default_factory=frozenset)


def cover(groups: Sequence[tuple[Claim, ...]], ground: Ground, known: Mapping[str, str]) -> Cover:
    """Return what the words say.

    ``groups``: claims, strongest first, each with those from which nothing sets it apart.
    ``known``: look -> answer, found before. What is said of a look on which others build counts
    for the rest of the phrase, wherever it stands.
    """
    first = _choose(groups, ground, known)
    said = {c.id: c.answer for c in first.sure if c.kind == LOOK and ground.ties.built_on(c.id)}
    return _choose(groups, ground, {**known, **said}) if said else first


def kept_apart(claims: Iterable[Claim], used: frozenset[int]) -> list[Claim]:
    """Return claims, strongest first, of which no two take the same word, nor one that is used."""
    kept: list[Claim] = []
    for claim in sorted(claims, key=lambda claim: -claim.force):
        if not claim.needed & used and not any(claim.at & one.at for one in kept):
            kept.append(claim)
    return kept


def _choose(groups: Sequence[tuple[Claim, ...]], ground: Ground, known: Mapping[str, str]) -> Cover:
    sure: list[Claim] = []
    unclear: list[tuple[Claim, ...]] = []
    possible = [
        tuple(claim for claim in group if ground.ties.possible(claim.kind, claim.id, known))
        for group in groups
    ]
    single = [group[0] for group in possible if group]
    for claim, *alike in filter(None, possible):
        before = [(one,) for one in sure] + unclear
        if not _free(claim, before, ground):
            continue
        rivals = [*alike, *_rivals(claim, single, ground), *_namesakes(claim, ground)]
        if any(one.meaning == claim.meaning for group in before for one in group):
            sure = [_joined(one, claim) for one in sure]
        elif same := [one for one in sure if one.entry == claim.entry]:
            sure = [one for one in sure if one.entry != claim.entry]
            unclear.append((*same, claim))
        elif rivals or claim.at & ground.doubted or claim.score < SURE:
            unclear.append((claim, *rivals))
        else:
            sure.append(claim)
    asked = {one.entry for group in unclear for one in group if len(group) > 1}
    sure = [claim for claim in sure if claim.entry not in asked]
    return Cover(tuple(sorted(sure, key=lambda claim: min(claim.at))), tuple(unclear))


def _free(claim: Claim, before: Iterable[tuple[Claim, ...]], ground: Ground) -> bool:
    """Tell whether the words of a claim still mean something beside those chosen before."""
    own = frozenset(p for p in claim.needed if ground.words[p].root not in SUBJECT_ROOTS)
    for group in before:
        if any(_go_together(one, claim, ground) for one in group):
            continue
        for one in group:
            if one.entry == claim.entry:
                if claim.needed <= one.at:
                    return False
                continue
            if claim.needed <= one.needed:
                return False
            if own and 2 * len(own & one.needed) >= len(own):
                return False
            if not own and _speaks_of(one, claim, ground):
                return False
    return True


def _go_together(one: Claim, other: Claim, ground: Ground) -> bool:
    return other.kind == LOOK and ground.ties.go_together(one.kind, one.id, other.id, other.answer)


def _speaks_of(one: Claim, claim: Claim, ground: Ground) -> bool:
    """Tell whether the only words of ``claim`` name the thing that ``one`` speaks of."""
    words, topics = ground.words, ground.index.topics.get(one.entry, frozenset())
    return all(
        words[p].root in topics
        and any(abs(p - q) <= APART and words[p].part == words[q].part for q in one.at)
        for p in claim.needed
    )


def _rivals(claim: Claim, claims: Sequence[Claim], ground: Ground) -> list[Claim]:
    """Return the claims that the same words support about as well."""
    return [
        other
        for other in claims
        if other.meaning != claim.meaning
        and not other.at < claim.at
        and other.force >= RIVAL * claim.force
        and 2 * len(other.needed & claim.needed) > max(len(other.needed), len(claim.needed))
        and not _go_together(other, claim, ground)
        and not _go_together(claim, other, ground)
    ]


def _namesakes(claim: Claim, ground: Ground) -> list[Claim]:
    """Return the other defects that a name shared by several could mean."""
    if claim.kind != CALLED:
        return []
    words, first = ground.words, min(claim.at)
    before: frozenset[str] = frozenset()
    if len(claim.at) == 1 and first and words[first - 1].part == words[first].part:
        before = frozenset({words[first - 1].root}) - NEUTRAL_ROOTS
    roots = frozenset(words[p].root for p in claim.at)
    return [replace(claim, id=name) for name in ground.ties.namesakes(claim.id, roots, before)]


def _joined(one: Claim, other: Claim) -> Claim:
    """Return a claim that stands on the words of both where they mean the same."""
    if one.meaning != other.meaning:
        return one
    return replace(one, at=one.at | other.at, needed=one.needed | other.needed)
