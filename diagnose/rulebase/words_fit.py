"""Lay sayings on the words of a phrase and see how well each one fits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from diagnose.reject import CALLED
from diagnose.rulebase.words_index import Index, Saying, SayingWord
from diagnose.rulebase.words_text import LIGHT_ROOTS, NEUTRAL_ROOTS, Word, root

LIKELY = 40.0
"""Percent of a saying below which it is not even worth a suggestion."""

REACH = 3  # words that may stand between the words of a saying
BETWEEN = 7.0  # percent lost for each telling word between them
LIGHT_BETWEEN = 3.0  # the same for a small word
ACROSS = 22.0  # percent lost for each stop between them
SUBJECT_ACROSS = 8.0  # the same where only the thing spoken of stands before the stop
TURNED = 12.0  # percent lost where they stand in another order
SYNONYM = 10.0  # percent lost where a synonym stands in the place of a word of the saying
BEFORE = 2  # words by which a small word may precede what it belongs to


@dataclass(frozen=True, slots=True)
class Fit:
    """A saying laid on a phrase: which of its words it takes, and how well (percent).

    ``denied``: the phrase says the contrary; ``full``: no word of the saying is missing.
    ``strength``: weight of the words found; the more, the less it can be chance.
    """

    saying: Saying
    at: tuple[int, ...]
    score: float
    strength: float
    denied: bool
    full: bool


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
    between = [words[place] for place in range(first, last) if place not in taken]
    content = [taken[place] for place in at if not taken[place].light]
    turned = content != [word for word in saying.words if word in content]
    synonym = any(by_synonym(words[place], word) for place, word in taken.items())
    score = (
        100.0 * weight / saying.weight
        - sum(LIGHT_BETWEEN if word.root in LIGHT_ROOTS else BETWEEN for word in between)
        - _across(taken, words) * (words[last].part - words[first].part)
        - TURNED * turned
        - SYNONYM * synonym
    )
    denied = any(words[place].negated for place in at) != any(taken[place].negated for place in at)
    if not _whole(saying, taken, words, between, turned):
        score = min(score, LIKELY)
    return Fit(saying, at, max(score, 0.0), weight, denied, len(taken) == len(saying.words))


def _across(taken: dict[int, SayingWord], words: Sequence[Word]) -> float:
    last = max(words[place].part for place in taken)
    before = [word for place, word in taken.items() if words[place].part < last]
    carried = len(taken) > 2 and all(word.subject for word in before)
    return SUBJECT_ACROSS if carried else ACROSS


def _whole(
    saying: Saying,
    taken: dict[int, SayingWord],
    words: Sequence[Word],
    between: Sequence[Word],
    turned: bool,
) -> bool:
    """Tell whether what is missing of a saying may be missing.

    What it is about must be there, and the small words, for which at the front another may stand
    (*at* or *in* the boss); a single telling word needs all the others; a "no" must stand over
    the same word. A name must be there word for word; of turned, incomplete and across a stop
    only one is allowed, and nothing may stand between turned words. Words that go with everything must stand together and alone.
    """
    found = set(taken.values())
    missing = [word for word in saying.words if word not in found]
    if any(word.subject or word.root in NEUTRAL_ROOTS for word in missing):
        return False
    if missing and sum(_tells(word) for word in saying.words) == 1:
        return False
    small = [word for word in missing if word.light]
    if small and not (small == [saying.words[0]] and _placed(taken, words)):
        return False
    if saying.kind == CALLED and (turned or between):
        return False
    apart = [word.root for word in between if word.root not in LIGHT_ROOTS]
    if len(apart) >= max(2, sum(not word.light for word in saying.words)):
        return False
    parts = {words[place].part for place in taken}
    if turned + bool(missing) + len(parts) > 2:
        return False
    if turned and between:
        return False
    if turned and sum(word.subject for word in saying.words) > 1:
        return False
    if any(_no_elsewhere(words[place], word) for place, word in taken.items()):
        return False
    return any(_tells(word) for word in found) or not (between or _goes_on(taken, words))


def _tells(word: SayingWord) -> bool:
    """Tell whether a word is neither a small one nor one that may go with everything."""
    return not word.light and word.root not in NEUTRAL_ROOTS


def _placed(taken: dict[int, SayingWord], words: Sequence[Word]) -> bool:
    """Tell whether some small word stands before what was found of a saying."""
    first = min(taken)
    return first > 0 and words[first - 1].root in LIGHT_ROOTS


def _goes_on(taken: dict[int, SayingWord], words: Sequence[Word]) -> bool:
    """Tell whether the words found only lead up to a telling word: only one *pattern*."""
    after = max(taken) + 1
    return (
        after < len(words)
        and words[after].part == words[after - 1].part
        and words[after].root not in LIGHT_ROOTS
    )


def _no_elsewhere(word: Word, said: SayingWord) -> bool:
    """Tell whether the "no" of a phrase stands before another word than that of the saying."""
    return bool(said.no) and word.negated and not word.no


def by_synonym(word: Word, said: SayingWord) -> bool:
    """Tell whether two words of one root are different words: *feeder*, *riser*; *sand*, *sandy*."""
    if word.raw == said.raw:
        return False
    if word.raw.endswith("y") != said.raw.endswith("y"):
        return True
    return root(word.raw) != word.root or root(said.raw) != said.root
