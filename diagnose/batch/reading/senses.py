"""What the heading of a column in a scrap sheet stands for."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

from diagnose.basics.quantity import UNITS
from diagnose.batch.reading.holds import BY_CONTENT, HOLDS, IN_WORDS
from diagnose.rulebase.book import Book
from diagnose.sheets.heading import Heading, folded, ways_to_take
from diagnose.sheets.names import ALIKE, CLEAR, PERHAPS, SHORT, Names, Sense

FAULT, COUNT_OF = "fault", "count of "
"""What holds fault words; what begins the meaning of a column that counts one fault."""
CONTENT = "fault or quantity"
"""A heading whose cells tell which of the two it is."""
MATTERS = {"fault", "quantity", "poured", "moulds", "remark", "total", CONTENT}
_BRACKETS = re.compile(r"[(\[{][^()\[\]{}]*[)\]}]")
MOST_GUESSED = 2_000
"""Different texts that are compared with names by their likeness; those below are taken exactly."""
LONGEST = 60
"""Letters of a text beyond which it is no heading."""
SHORT_FORMS = {
    "dt": "date", "ptn": "pattern", "patt": "pattern", "pat": "pattern", "ht": "heat",
    "ldl": "ladle", "mouldr": "moulder", "mldr": "moulder", "molder": "moulder", "mkr": "maker",
    "qty": "quantity", "qnty": "quantity", "wt": "weight", "fce": "furnace", "cstg": "casting",
    "cstgs": "castings", "csts": "castings", "bx": "box", "plt": "plate", "insp": "inspector",
    "rej": "rejected", "scr": "scrapped", "crew": "shift", "mc": "machine", "descr": "description",
    "rmks": "remarks", "rmk": "remark", "ord": "order", "pcs": "pieces", "pc": "pieces",
    "def": "defect", "corem": "coremaker", "ea": "each", "molds": "moulds", "mold": "mould",
}  # fmt: skip
"""Words of headings cut short; common practice, no source."""
MONEY = {"gbp", "eur", "usd", "euro", "euros", "pounds", "dollars"}
OWN = "own: "
"""Begins what a column holds that has readings of something the book does not know."""


class BatchNames(Names):
    """All names of what a column of a batch's sheet may hold.

    ``knows``: tells whether a text is a fault word that is known by the letter; a column headed
    with one counts that fault.
    """

    def __init__(self, book: Book, knows: Callable[[str], bool]) -> None:
        super().__init__(book)
        self._knows = knows
        self._guessed = 0
        self._held: dict[str, set[str]] = {}
        for meaning, called in HOLDS.items():
            for name in (meaning, *called):
                self._held.setdefault(written_out(name), set()).add(meaning)
        for name in BY_CONTENT:
            self._held[written_out(name)] = {CONTENT}

    def is_measured(self, meaning: str) -> bool:
        """Tell whether a column makes a table worth reading."""
        return meaning in MATTERS or meaning.startswith(COUNT_OF) or super().is_measured(meaning)

    def is_reading(self, meaning: str) -> bool:
        """Tell whether a column holds readings of a measurement of the book."""
        return meaning in self.book.measurements

    def unit(self, meaning: str) -> str:
        """Return the unit of what a column holds; empty for what has none."""
        if meaning in ("weight", "piece weight"):
            return "kg"
        return self.book.measurements[meaning].unit if self.is_reading(meaning) else ""

    def called(self, meaning: str) -> str:
        """Return what a column holds, in words."""
        if self.is_reading(meaning):
            return self.book.measurements[meaning].name
        if meaning.startswith(COUNT_OF):
            return f"castings with {meaning.removeprefix(COUNT_OF)!r}"
        return IN_WORDS.get(meaning, meaning)

    def meaning_of(self, words: str) -> str:
        """Return what a person means who says what a column holds; raise Fault for the unknown."""
        from diagnose.reasoning.taking import measurement_named

        if words.startswith(OWN):
            return words
        plain = written_out(words)
        for meaning in HOLDS:
            if plain in (written_out(meaning), written_out(self.called(meaning))):
                return meaning
        found = self._held.get(plain, set()) - {CONTENT}
        if len(found) == 1:
            return found.pop()
        return measurement_named(self.book, words)

    def _sense(self, text: str) -> Sense:
        if len(text) > LONGEST:
            return Sense()
        ways = [
            replace(way, words=written_out(way.words))
            for part in dict.fromkeys((text, _BRACKETS.sub(" ", text)))
            for way in ways_to_take(part)
        ]
        for way in ways:
            if sense := self._as_held(way):
                return sense
        self._guessed += 1
        if self._guessed > MOST_GUESSED:
            return Sense()
        measured = super()._sense(text)
        exact = measured.sure if measured.how == "named" else ""
        if exact and measured.unit:
            return measured
        if self._knows(text):
            fault = COUNT_OF + text
            return Sense(perhaps=(fault, exact)) if exact else Sense(fault, "named")
        if exact:
            return measured
        if sense := self._like_held(ways[0].words):
            return sense
        return measured

    def _as_held(self, way: Heading) -> Sense | None:
        for words in _shorter(way.words):
            found = self._held.get(words)
            if found:
                (meaning,) = found if len(found) == 1 else ("",)
                mass = bool(way.unit) and UNITS[way.unit].kind == "mass"
                if meaning and (not way.unit or mass or way.unit in ("h", "min")):
                    return Sense(meaning, "named", unit=way.unit if mass else "")
                if not meaning:
                    return Sense(perhaps=tuple(sorted(found)))
        return None

    def _like_held(self, words: str) -> Sense | None:
        """Return what a heading stands for that is a name with a slip in it."""
        from rapidfuzz import fuzz, process

        if len(words) <= SHORT:
            return None
        near = process.extract(
            words, self._held.keys(), scorer=fuzz.ratio, score_cutoff=PERHAPS, limit=None
        )
        scores: dict[str, float] = {}
        for name, score, _ in near:
            if len(name) > SHORT:
                for meaning in self._held[name]:
                    scores[meaning] = max(scores.get(meaning, 0.0), score)
        ranked = sorted(scores, key=lambda meaning: (-scores[meaning], meaning))
        if not ranked:
            return None
        second = scores[ranked[1]] if len(ranked) > 1 else 0.0
        if scores[ranked[0]] >= max(ALIKE, second + CLEAR):
            return Sense(ranked[0], "alike")
        return Sense(perhaps=tuple(ranked[:4]))


def written_out(text: str) -> str:
    """Return the words of a heading, those that are cut short written out.

    >>> written_out("Dt. poured"), written_out("Ht Nr")
    ('date poured', 'heat no')
    """
    return " ".join(SHORT_FORMS.get(word, word) for word in folded(text).split())


def _shorter(words: str) -> Iterator[str]:
    """Yield a heading's words, without the money behind it, and without a number behind it."""
    yield words
    parts = words.split()
    if len(parts) > 1 and (parts[-1] in MONEY or parts[-1].isdecimal()):
        yield " ".join(parts[:-1])
