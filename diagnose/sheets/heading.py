"""Take a heading apart into what it names and the unit that stands with it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from diagnose.basics.quantity import unit_named

SPELLINGS = {
    "temp": "temperature",
    "temps": "temperature",
    "moist": "moisture",
    "h2o": "moisture",
    "mold": "mould",
    "molding": "moulding",
    "sulfur": "sulphur",
    "aluminum": "aluminium",
    "compactibility": "compactability",
    "equiv": "equivalent",
    "compr": "compression",
    "nr": "no",
    "number": "no",
    "num": "no",
}
"""Short and other spellings of words in headings; common practice, no source."""
SMALL = {"of", "the", "in", "at", "for", "a", "an"}
"""Words that may be left out of a heading."""
_PER_CENT = {"%", "wt%", "w%", "mass%", "m%", "mass-%", "wt-%", "%w/w", "%bymass", "%byweight"}
_DEGREES = re.compile(r"(?:°|deg(?:ree)?s?\.?)\s*([CF])", re.IGNORECASE)
_RESPELT = str.maketrans({"²": "2", "³": "3", "^": "", "º": "°", "℃": "°C", "℉": "°F"})
_UNIT_SIGN = re.compile(r"[/%°²³^]")
_BRACKETS = re.compile(r"[(\[{]([^()\[\]{}]*)[)\]}]")
_STOPS = re.compile(r"(?<=\b[^\W\d_])\.(?=[^\W\d_]\b)")
_WORD = re.compile(r"[^\W_]+")


@dataclass(frozen=True, slots=True)
class Heading:
    """One way to take a heading: its words, folded, and its unit.

    ``strange``: what stands in the place of a unit and is none that is known here.
    """

    words: str
    unit: str = ""
    strange: str = ""


def unit_of(text: str) -> str:
    """Return the unit that a text spells, or an empty text.

    >>> unit_of("deg. C"), unit_of("kN / m²"), unit_of("wt. %"), unit_of("bench 2")
    ('degC', 'kN/m2', '%', '')
    """
    plain = re.sub(r"\s*/\s*", "/", text.translate(_RESPELT).strip().rstrip("."))
    if plain.casefold().replace(" ", "").replace(".", "") in _PER_CENT:
        return "%"
    if degrees := _DEGREES.fullmatch(plain):
        return f"deg{degrees[1].upper()}"
    return (unit_named(plain) or "") if plain else ""


def folded(text: str) -> str:
    """Return the words of a heading in one spelling, without small words and signs.

    >>> folded("Temp. of the mold-sand"), folded("Heat Nr."), folded("L.O.I.")
    ('temperature mould sand', 'heat no', 'loi')
    """
    plain = _STOPS.sub("", text.casefold())
    words = (SPELLINGS.get(word, word) for word in _WORD.findall(plain))
    return " ".join(word for word in words if word not in SMALL)


def ways_to_take(text: str) -> Iterator[Heading]:
    """Yield the ways to take a heading, the likeliest first.

    >>> [(way.words, way.unit) for way in ways_to_take("moisture (%)")]
    [('moisture', '%')]
    >>> [(way.words, way.unit) for way in ways_to_take("Temp F")]
    [('temperature f', ''), ('temperature', 'degF')]
    """
    for found in reversed(list(_BRACKETS.finditer(text))):
        unit = unit_of(found[1])
        if unit or _UNIT_SIGN.search(found[1]):
            rest = f"{text[: found.start()]} {text[found.end() :]}"
            yield Heading(folded(rest), unit, "" if unit else found[1].strip())
            return
    ends = list(_ends(text))
    yield from (way for way, signed in ends if signed)
    yield Heading(folded(text))
    yield from (way for way, signed in ends if not signed)


def _ends(text: str) -> Iterator[tuple[Heading, bool]]:
    """Yield the ways to part a unit off an end, and whether it has a sign that words do not."""
    if text.startswith("%"):
        yield Heading(folded(text), "%"), True
    if text.endswith("%"):
        yield Heading(folded(text), "%"), True
    parts = [*text.replace(",", " ").replace(" / ", " ").split()]
    for count in (2, 1):
        last = " ".join(parts[-count:])
        if len(parts) > count and (unit := unit_of(last)):
            yield Heading(folded(" ".join(parts[:-count])), unit), bool(_UNIT_SIGN.search(last))
    name, slash, last = text.rpartition("/")
    if slash and (unit := unit_of(last)):
        yield Heading(folded(name), unit), bool(_UNIT_SIGN.search(last))
    if len(parts) > 1 and _UNIT_SIGN.search(parts[-1]) and not unit_of(parts[-1]):
        yield Heading(folded(" ".join(parts[:-1])), strange=parts[-1]), True
