"""What the fault words of a scrap sheet mean: each fault with the probability that it is meant.

In this order: what the shop taught, what is known by the letter, a known word with a letter wrong,
several known words joined, and what the trained reader makes of it. What none of them knows stays
unknown and is listed; a word that could be two faults stays two.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from diagnose.batch.reading.knownwords import (
    Shares,
    folded,
    known_words,
    mean_of,
    scaled,
    squeezed,
)
from diagnose.words.calibration import Questions
from diagnose.words.classes import CALLED_AS
from diagnose.words.sayings import WORD

if TYPE_CHECKING:
    from diagnose.session.library import Library

TAUGHT, LETTER, SLIP, PARTS, READER, NO_FAULT = (
    "taught", "letter", "slip", "parts", "reader", "unknown",
)  # fmt: skip
"""How a word was understood."""
ENOUGH = 0.5
"""Probability of the likeliest fault from which the trained reader is believed."""
SMALL = 0.1
"""Share of the likeliest below which a fault that the reader names is left out."""
SHARPER = 1.5
"""Power to which the reader's probabilities are raised before they are shared out."""
STRANGE = 0.5
"""Share of words that are none from which the reader is not asked."""
NEAREST = 3
"""Faults that are offered for a word that is not known."""
TOGETHER = 64
_JOINT = re.compile(r"\s*(?:[/+&,;]|\band\b|\bund\b|\bplus\b)\s*")


@dataclass(frozen=True, slots=True)
class Named:
    """What a fault word means: ``faults`` add up to 1, none if unknown; then the ``nearest``."""

    text: str
    faults: tuple[tuple[str, float], ...]
    how: str
    nearest: tuple[tuple[str, float], ...] = ()


def _as_arrays(known: Mapping[str, Shares]) -> dict[str, NDArray[np.uint8]]:
    """Return known words as an array that can be kept: their JSON, a byte a place."""
    return {"words": np.frombuffer(json.dumps(known).encode(), np.uint8)}


def _from_arrays(arrays: Mapping[str, NDArray[Any]]) -> dict[str, dict[str, float]]:
    """Return the words that were kept. Raises ValueError where that is not what there is."""
    known = json.loads(arrays["words"].tobytes())
    if not isinstance(known, dict):
        raise ValueError("no words")
    return known


class FaultWords:
    """All that is known of fault words, for one book."""

    def __init__(
        self, library: Library, folder: Path, taught: Mapping[str, Shares] | None = None,
        metal: str = "grey iron",
    ) -> None:  # fmt: skip
        """``folder``: of the knowledge. ``taught``: the shop's own words, before all others.

        ``metal``: what the castings are of; faults of other metals are not meant.
        """
        self.library = library
        self._fits = {
            name
            for name, defect in library.book.defects.items()
            if defect.scope is None or not defect.scope.metal or metal in defect.scope.metal
        }
        kept = library.keep(
            "fault-words", lambda: _as_arrays(known_words(library.book, folder)), _from_arrays
        )
        self._set(kept, taught or {})

    def _set(self, known: Mapping[str, Shares], taught: Mapping[str, Shares]) -> None:
        self.known = dict(known)
        self.taught = {folded(word): scaled(shares) for word, shares in taught.items()}
        self._squeezed: dict[str, list[Shares]] = {}
        for word, shares in self.known.items():
            self._squeezed.setdefault(squeezed(word), []).append(shares)
        self._words = sorted({part for word in self.known for part in word.split()})

    def named(self, texts: Sequence[str]) -> list[Named]:
        """Return what each word means."""
        found = [self.by_letter(text) for text in texts]
        open_ones = [text for text, one in zip(texts, found, strict=True) if one is None]
        heard = iter(self._by_reader(open_ones))
        return [self._of_this_metal(one or next(heard)) for one in found]

    def _of_this_metal(self, word: Named) -> Named:
        """Return what a word means without faults of other metals, unless it means nothing else."""
        kept = {name: share for name, share in word.faults if name in self._fits}
        if not kept or len(kept) == len(word.faults) or word.how == TAUGHT:
            return word
        return replace(word, faults=tuple(scaled(kept).items()))

    def by_letter(self, text: str) -> Named | None:
        """Return what a word means that is known without the trained reader, or None."""
        whole = self._whole(text)
        if whole is not None:
            return whole
        parts = [part for part in _JOINT.split(text.lower()) if part.strip()]
        if len(parts) < 2:
            return None
        named = [self._whole(part) for part in parts]
        sure = [dict(one.faults) for one in named if one is not None and one.faults]
        if len(sure) < len(parts):
            return None
        return Named(text, tuple(mean_of(sure).items()), PARTS)

    def _whole(self, text: str) -> Named | None:
        word = folded(text)
        if word in self.taught:
            return Named(text, tuple(self.taught[word].items()), TAUGHT)
        shares = self.known.get(word)
        if shares is None and (tight := self._squeezed.get(squeezed(word))):
            shares = mean_of(tight)
        if shares is not None:
            return Named(text, tuple(shares.items()), LETTER if shares else NO_FAULT)
        near = self._shortened(word) or self._misspelt(word)
        return Named(text, tuple(near.items()), SLIP) if near else None

    def _shortened(self, word: str) -> Shares:
        """Return what the known words mean of which this has the first letter and the last word.

        As in ``b/on`` for burn-on.
        """
        first, _, rest = word.partition(" ")
        if len(first) != 1 or len(rest) < 2 or " " in rest:
            return {}
        ends = [(name.partition(" "), shares) for name, shares in self.known.items()]
        return mean_of([s for (a, _, b), s in ends if b == rest and a[:1] == first and s])

    def _misspelt(self, word: str) -> Shares:
        """Return what the known words mean that differ by a letter, or by two in a long word."""
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        if len(word) < 5:
            return {}
        slips = 1 if len(word) < 10 else 2
        meanings = {**self.known, **self.taught}
        choices = list(meanings)
        near = [
            one
            for one in process.extract(word, choices, scorer=OSA.distance, score_cutoff=slips)
            if one[0][0] == word[0]
        ]
        least = min((distance for _, distance, _ in near), default=0)
        return mean_of([meanings[name] for name, distance, _ in near if distance == least])

    def _by_reader(self, texts: Sequence[str]) -> list[Named]:
        if not texts:
            return []
        model = self.library.reader.model
        mine = [
            (column, name.removeprefix(CALLED_AS))
            for column, name in enumerate(model.classes)
            if name.startswith(CALLED_AS) and name.removeprefix(CALLED_AS) in self._fits
        ]
        columns, ids = np.array([column for column, _ in mine]), [name for _, name in mine]
        questions = Questions([CALLED_AS + name for name in ids])
        found = []
        for at in range(0, len(texts), TOGETHER):
            some = texts[at : at + TOGETHER]
            for text, read in zip(some, model.read(some), strict=True):
                if not read.parts:
                    found.append(Named(text, (), NO_FAULT))
                    continue
                table, _ = questions.features(read.logits[:1, columns].astype(np.float64))
                chances = model.curve("called")(table)
                found.append(
                    self._of_chances(text, dict(zip(ids, map(float, chances), strict=True)))
                )
        return found

    def _of_chances(self, text: str, chances: Mapping[str, float]) -> Named:
        ranked = sorted(chances.items(), key=lambda pair: (-pair[1], pair[0]))
        best = ranked[0][1]
        nearest = tuple((name, round(chance, 3)) for name, chance in ranked[:NEAREST])
        if best < ENOUGH or self._strange(text) > STRANGE:
            return Named(text, (), NO_FAULT, nearest)
        kept = {name: chance**SHARPER for name, chance in ranked if chance >= SMALL * best}
        return Named(text, tuple(scaled(kept).items()), READER, nearest)

    def _strange(self, text: str) -> float:
        """Return the share of words that are neither English nor near to a known fault word."""
        words = [word for word in WORD.findall(text.lower()) if len(word) > 2]
        return sum(map(self._is_strange, words)) / len(words) if words else 1.0

    def _is_strange(self, word: str) -> bool:
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        if word in self.library.reader.model.encoder.vocabulary:
            return False
        slips = 1 if len(word) < 8 else 2
        return (
            process.extractOne(word, self._words, scorer=OSA.distance, score_cutoff=slips) is None
        )
