"""Lay sayings on the words of a phrase and see how well each one fits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from diagnose.reject import CALLED
from diagnose.rulebase.words_index import Index, Saying, SayingWord
from diagnose.rulebase.words_text import LIGHT_ROOTS, NEUTRAL_ROOTS, Word, root

LIKELY = 40.0
"""Percent of a saying from which it is worth a suggestion; one that breaks a rule gets no more."""

REACH = 3  # words that may stand between the words of a saying
BEFORE = 2  # words by which a small word may precede what it belongs to
BETWEEN = 7.0  # percent lost for each telling word between the words of a saying
LIGHT_BETWEEN = 3.0  # the same for a small word
ACROSS = 22.0  # percent lost for each stop between them
SUBJECT_ACROSS = 8.0  # the same where only the thing spoken of stands before the stop
TURNED = 12.0  # percent lost where they stand in another order
SYNONYM = 10.0  # percent lost where a synonym stands in the place of one of them

Places = Mapping[str, Sequence[int]]
"""Root -> where in the phrase it stands."""


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
    for place, word in enumerate(words):
        places.setdefault(word.root, []).append(place)
    weights: dict[int, float] = {}
    for name in places:
        weight = index.weight(name)
        for number in index.by_root.get(name, ()):
            weights[number] = weights.get(number, 0.0) + weight
    found: list[Fit] = []
    for number, weight in weights.items():
        saying = index.sayings[number]
        if weight * 100 >= LIKELY * saying.weight:
            found.extend(_best(saying, words, places))
    return found


def _best(saying: Saying, words: Sequence[Word], places: Places) -> Iterator[Fit]:
    """Yield the best way to lay a saying round one of the places of its rarest word."""
    present = [word for word in saying.words if word.root in places and not word.light]
    if present:
        rarest = max(present, key=lambda word: word.weight)
        laid = (_lay(saying, place, rarest, words, places) for place in places[rarest.root])
        yield max((one.fit() for one in laid), key=lambda fit: (not fit.denied, fit.score))


def _lay(
    saying: Saying, middle: int, rarest: SayingWord, words: Sequence[Word], places: Places
) -> _Laid:
    """Return a saying laid so that its rarest word stands in the middle."""
    reach = len(saying.words) + REACH
    taken: dict[int, SayingWord] = {middle: rarest}
    for word in saying.words:
        if word is rarest or word.light:
            continue
        near = [p for p in places.get(word.root, ()) if abs(p - middle) <= reach and p not in taken]
        if near:
            taken[min(near, key=lambda place: abs(place - middle))] = word
    for number, word in enumerate(saying.words):
        if word.light:
            taken.update(_light(number, saying, taken, places))
    return _Laid(saying, dict(sorted(taken.items())), words)


def _light(
    number: int, saying: Saying, taken: Mapping[int, SayingWord], places: Places
) -> dict[int, SayingWord]:
    """Return where a small word of a saying stands close to the word that it belongs to."""
    small = saying.words[number]
    heads = [word for word in saying.words[number + 1 :] if not word.light]
    ahead = 1 if heads else -1
    head = heads[0] if heads else next(w for w in reversed(saying.words[:number]) if not w.light)
    for at, word in taken.items():
        for place in places.get(small.root, ()) if word is head else ():
            if place not in taken and 0 < (at - place) * ahead <= BEFORE:
                return {place: small}
    return {}


class _Laid:
    """A saying laid on a phrase, and what speaks for and against it."""

    def __init__(
        self, saying: Saying, taken: Mapping[int, SayingWord], words: Sequence[Word]
    ) -> None:
        self.saying, self.taken, self.words = saying, taken, words
        self.at = tuple(taken)
        found = list(taken.values())
        self.missing = [word for word in saying.words if word not in found]
        inner = range(self.at[0] + 1, self.at[-1])
        self.between = [words[place] for place in inner if place not in taken]
        content = [word for word in found if not word.light]
        self.turned = content != [word for word in saying.words if word in content]
        self.stops = words[self.at[-1]].part - words[self.at[0]].part

    def fit(self) -> Fit:
        """Return how well it fits."""
        weight = sum(word.weight for word in self.taken.values())
        score = (
            100.0 * weight / self.saying.weight
            - sum(LIGHT_BETWEEN if w.root in LIGHT_ROOTS else BETWEEN for w in self.between)
            - self._across() * self.stops
            - TURNED * self.turned
            - SYNONYM * any(by_synonym(self.words[at], word) for at, word in self.taken.items())
        )
        if self._incomplete() or self._scattered() or self._out_of_order() or self._no_elsewhere():
            score = min(score, LIKELY)
        said_no = any(self.words[place].negated for place in self.at)
        denied = said_no != any(word.negated for word in self.taken.values())
        return Fit(self.saying, self.at, max(score, 0.0), weight, denied, not self.missing)

    def _across(self) -> float:
        last = self.words[self.at[-1]].part
        before = [word for place, word in self.taken.items() if self.words[place].part < last]
        carried = len(self.taken) > 2 and all(word.subject for word in before)
        return SUBJECT_ACROSS if carried else ACROSS

    def _incomplete(self) -> bool:
        """Tell whether something is missing that must not be.

        What the saying is about must be there, and its small words, for which at the front another
        may stand (*at* or *in* the boss). A single telling word needs all the others.
        """
        missing = self.missing
        if any(word.subject or word.root in NEUTRAL_ROOTS for word in missing):
            return True
        if missing and sum(_tells(word) for word in self.saying.words) == 1:
            return True
        small = [word for word in missing if word.light]
        first = self.at[0]
        placed = first > 0 and self.words[first - 1].root in LIGHT_ROOTS
        return bool(small) and not (small == [self.saying.words[0]] and placed)

    def _scattered(self) -> bool:
        """Tell whether something stands between its words that must not.

        A name must stand together, and so must words that go with everything, which must not lead
        up to another word either: *only one* pattern. Between two words no small word may stand
        that the saying does not have (*iron in the ladle* is no ladle iron).
        """
        telling = [word for word in self.between if word.root not in LIGHT_ROOTS]
        if len(telling) >= max(2, sum(not word.light for word in self.saying.words)):
            return True
        if len(self.taken) == 2 and len(telling) < len(self.between):
            return True
        if self.saying.kind == CALLED:
            return bool(self.between)
        if any(_tells(word) for word in self.taken.values()):
            return False
        after = self.words[self.at[-1] + 1 :][:1]
        part = self.words[self.at[-1]].part
        leads_up = any(word.part == part and word.root not in LIGHT_ROOTS for word in after)
        return bool(self.between) or leads_up

    def _out_of_order(self) -> bool:
        """Tell whether its words stand in an order that may say something else.

        Only one thing may be wrong: turned, incomplete, or across a stop. A name must not be
        turned, nor a saying of two things (the pattern stuck in the sand), nor one with words
        between.
        """
        if self.turned + bool(self.missing) + (self.stops > 0) > 1:
            return True
        things = sum(word.subject for word in self.saying.words)
        return self.turned and (self.saying.kind == CALLED or bool(self.between) or things > 1)

    def _no_elsewhere(self) -> bool:
        """Tell whether the "no" of the phrase is over another word than that of the saying."""
        pairs = ((self.words[place], said) for place, said in self.taken.items())
        return any(said.no and word.negated and not word.no for word, said in pairs)


def _tells(word: SayingWord) -> bool:
    """Tell whether a word is neither a small one nor one that may go with everything."""
    return not word.light and word.root not in NEUTRAL_ROOTS


def by_synonym(word: Word, said: SayingWord) -> bool:
    """Tell whether two words of one root are different words: feeder, riser; sand, sandy."""
    if word.raw == said.raw:
        return False
    if word.raw.endswith("y") != said.raw.endswith("y"):
        return True
    return root(word.raw) != word.root or root(said.raw) != said.root
