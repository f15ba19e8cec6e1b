"""Fault words that are known by the letter: the book's names, and what scrap sheets call faults.

The labelled words of ``knowledge/said/`` are read but for a fifth, chosen by a hash of the text as
in the other corpora: that fifth is for measuring only and never enters.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from hashlib import blake2b
from pathlib import Path
from typing import Any

from diagnose.basics.errors import Fault
from diagnose.rulebase.book import Book
from diagnose.rulebase.said import FOLDER
from diagnose.words.sayings import WORD

Shares = dict[str, float]
"""Defect -> how likely it is meant; empty where the word is known to name no fault."""
OPEN = 5
"""Every so-manieth word is kept for measuring."""
LIST = "fault words"
_BLOW = {"blow-mould-gas": 0.45, "blow-core-gas": 0.3, "blow-trapped-air": 0.15, "pinholes": 0.1}
COMMON = dict.fromkeys(
    ("blow", "blows", "blown", "blowhole", "blowholes", "blow hole", "blow holes", "gas hole",
     "gas holes", "blw"), _BLOW,
)  # fmt: skip
"""Words that the book takes for one fault and a scrap sheet writes for several; common practice,
no source."""


def folded(text: str) -> str:
    """Return a fault word as it is compared: small letters without signs.

    >>> folded("H/T"), folded(" Cold  Shuts!")
    ('h t', 'cold shuts')
    """
    return " ".join(word.replace("\u2019", "'") for word in WORD.findall(text.lower()))


def squeezed(text: str) -> str:
    """Return a folded word without its spaces."""
    return text.replace(" ", "")


def kept_for_measuring(text: str) -> bool:
    """Tell whether a labelled word belongs to the fifth that nothing may learn from."""
    plain = " ".join(text.lower().split())
    return int.from_bytes(blake2b(plain.encode(), digest_size=8).digest()) % OPEN == 0


def known_words(book: Book, folder: Path) -> dict[str, Shares]:
    """Return folded word -> what it means: labelled words go before the names of the book."""
    found: dict[str, list[Shares]] = {}
    for text, shares in _labelled(book, folder):
        found.setdefault(folded(text), []).append(shares)
    known = {word: mean_of(several) for word, several in _names(book).items()}
    known |= {word: dict(shares) for word, shares in COMMON.items()}
    known |= {word: mean_of(several) for word, several in found.items()}
    known.pop("", None)
    return known


def _names(book: Book) -> dict[str, list[Shares]]:
    names: dict[str, list[Shares]] = {}
    for name, defect in book.defects.items():
        spellings = (name.replace("-", " "), defect.name, *defect.also)
        for word in dict.fromkeys(map(folded, spellings)):
            names.setdefault(word, []).append({name: 1.0})
    return names


def _labelled(book: Book, folder: Path) -> Iterator[tuple[str, Shares]]:
    """Yield the labelled words; those that the book check would refuse are passed over."""
    from diagnose.rulebase.yamlread import read

    for path in sorted((folder / FOLDER).rglob("*.yaml")):
        if LIST.encode() not in path.read_bytes():
            continue
        try:
            data = read(path, path.name).data
        except Fault:
            continue
        for row in data.get(LIST, ()) if isinstance(data, dict) else ():
            yield from _row(book, row)


def _row(book: Book, row: Any) -> Iterator[tuple[str, Shares]]:
    text, means = (row.get("fault"), row.get("means")) if isinstance(row, dict) else ("", None)
    if not isinstance(text, str) or not isinstance(means, dict) or kept_for_measuring(text):
        return
    shares = {str(name): float(share) for name, share in means.items() if name in book.defects}
    if shares or not means:
        yield text, shares


def mean_of(several: list[Shares]) -> Shares:
    """Return the mean of what a word may mean, likeliest first.

    >>> mean_of([{"crush": 1.0}, {"crush": 0.5, "drop": 0.5}])
    {'crush': 0.75, 'drop': 0.25}
    """
    whole: Shares = {}
    for shares in several:
        for name, share in shares.items():
            whole[name] = whole.get(name, 0.0) + share
    return scaled(whole)


def scaled(shares: Mapping[str, float]) -> Shares:
    """Return shares that add up to 1, the likeliest first; nothing of nothing."""
    total = sum(shares.values())
    ranked = sorted(shares.items(), key=lambda pair: (-pair[1], pair[0]))
    return {name: share / total for name, share in ranked if share > 0.0} if total > 0.0 else {}
