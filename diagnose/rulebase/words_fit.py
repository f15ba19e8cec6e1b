"""Lay sayings on the words of a phrase and see how well each one fits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from diagnose.reject import CALLED
from diagnose.rulebase.words_index import Index, Saying, SayingWord
from diagnose.rulebase.words_text import NEUTRAL_ROOTS, Word, root

LIKELY = 40.0
"""Percent of a saying below which it is not even worth a suggestion."""

REACH = 3  # words that may stand between the words of a saying
BETWEEN = 5.0  # percent lost for each telling word between them
ACROSS = 22.0  # percent lost for each stop between them
TURNED = 15.0  # percent lost where they stand in another order
SYNONYM = 10.0  # percent lost where a synonym stands in the place of a word of the saying
BEFORE = 2  # words by which a small word may precede what it belongs to


@dataclass(frozen=True, slots=True)
class Fit:
    """A saying laid on a phrase: which of its words it takes, and how well (percent).

    ``denied``: the phrase says the contrary. ``strength``: weight of the words found; the more,
    the less it can be chance.
    """

    saying: Saying
    at: tuple[int, ...]
    score: float
    strength: float
    denied: bool


def fits(index: Index, words: Sequence[Word]) -> list[Fit]:
    """Return every saying that may be in the phrase, in no special order."""
    places: dict[str, list[int]] = {}
    for number, word in enumerate(words):
        places.setdefault(word.root, []).append(number)
    found: dict[int, float] = {}
    for name in places:
        weight = index.weight(name)
        for number in index.by_root.get(name, ()):
            found[number] = found.get(number, 0.0) + weight
    laid = (
        _lay(index.sayings[number], words, places)
        for number, weight in found.items()
        if weight * 100 >= LIKELY * index.sayings[number].weight
    )
    return [fit for fit in laid if fit is not None]


def _lay(saying: Saying, words: Sequence[Word], places: dict[str, list[int]]) -> Fit | None:
    """Return the best way to lay a saying round one of the places of its rarest word."""
    present = [word for word in saying.words if word.root in places and not word.light]
    if not present:
        return None
    rarest = max(present, key=lambda word: word.weight)
    tried = [_lay_round(saying, place, rarest, words, places) for place in places[rarest.root]]
    return max(tried, key=lambda fit: (not fit.denied, fit.score), default=None)


def _lay_round(
    saying: Saying,
    middle: int,
    rarest: SayingWord,
    words: Sequence[Word],
    places: dict[str, list[int]],
) -> Fit:
    reach = len(saying.words) + REACH
    taken: dict[int, SayingWord] = {middle: rarest}
    for word in saying.words:
        if word is rarest or word.light:
            continue
        near = [p for p in places.get(word.root, ()) if abs(p - middle) <= reach and p not in taken]
        if near:
            taken[min(near, key=lambda p: abs(p - middle))] = word
    for number, word in enumerate(saying.words):
        if word.light:
            place = _place_of_light(number, saying, taken, places)
            if place is not None:
                taken[place] = word
    return _fit(saying, taken, words)


def _place_of_light(
    number: int, saying: Saying, taken: dict[int, SayingWord], places: dict[str, list[int]]
) -> int | None:
    """Return where a small word stands close to the word that it belongs to, or None."""
    heads = [word for word in saying.words[number + 1 :] if not word.light]
    ahead = bool(heads)
    head = heads[0] if heads else next(w for w in reversed(saying.words[:number]) if not w.light)
    for at, word in taken.items():
        if word is head:
            for place in places.get(saying.words[number].root, ()):
                if place not in taken and 0 < (at - place if ahead else place - at) <= BEFORE:
                    return place
    return None


def _fit(saying: Saying, taken: dict[int, SayingWord], words: Sequence[Word]) -> Fit:
    at = tuple(sorted(taken))
    first, last = at[0], at[-1]
    weight = sum(word.weight for word in taken.values())
    between = sum(place not in taken for place in range(first, last))
    content = [taken[place] for place in at if not taken[place].light]
    turned = content != [word for word in saying.words if word in content]
    synonym = any(_by_synonym(words[place], word) for place, word in taken.items())
    score = (
        100.0 * weight / saying.weight
        - BETWEEN * between
        - ACROSS * (words[last].part - words[first].part)
        - TURNED * turned
        - SYNONYM * synonym
    )
    denied = any(words[place].negated != word.negated for place, word in taken.items())
    whole = _whole(saying, taken, words, bool(between), turned)
    return Fit(saying, at, max(score if whole else min(score, LIKELY), 0.0), weight, denied)


def _whole(
    saying: Saying,
    taken: dict[int, SayingWord],
    words: Sequence[Word],
    between: bool,
    turned: bool,
) -> bool:
    """Tell whether what is missing of a saying may be missing.

    What it is about must be there, a single word needs its small words (*at* the gate), a "no"
    must stand over the same word, and where all its words are common they must stand together.
    A name, or a saying with words missing, must keep its order.
    """
    found = set(taken.values())
    missing = [word for word in saying.words if word not in found]
    if any(word.subject for word in missing):
        return False
    if missing and sum(not word.light for word in saying.words) == 1:
        return False
    if turned and (missing or saying.kind == CALLED):
        return False
    if any(
        w.first and w.negated and words[p].negated and not words[p].first for p, w in taken.items()
    ):
        return False
    return not between or not all(w.light or w.root in NEUTRAL_ROOTS for w in taken.values())


def _by_synonym(word: Word, said: SayingWord) -> bool:
    """Tell whether two words of one root are different words of the trade."""
    if word.raw == said.raw:
        return False
    return root(word.raw) != word.root or root(said.raw) != said.root
