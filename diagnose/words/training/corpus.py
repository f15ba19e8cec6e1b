"""Everything that the reader is trained with, from the rule base: sayings and what people say."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path
from typing import Any

from diagnose.rulebase.book import Book
from diagnose.rulebase.said import Said, said_in
from diagnose.rulebase.sayings import sayings_of
from diagnose.words.classes import CALLED_AS, MEASURED_AS, class_of

OPEN, APART = 5, 8
"""Every so-manieth utterance is kept out of training: for the open test, for calibration."""


@dataclass(frozen=True, slots=True)
class Example:
    """A text with what it means, may mean and does not mean, as names of classes.

    ``kind``: ``saying`` (the book's own), ``said`` (somebody's), ``remark`` (somebody's, with all
    that it says), ``called`` (a fault's name), ``reading`` (a reading's). ``shares``: for a fault's
    name that could be several, how likely each of ``means`` is.
    """

    text: str
    kind: str
    means: tuple[str, ...]
    may: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    shares: tuple[float, ...] = ()


def bucket(text: str, buckets: int, salt: str = "") -> int:
    """Return in which of so many heaps a text falls, always the same one.

    >>> bucket("smooth inside", 5) == bucket("Smooth  inside", 5)
    True
    """
    plain = " ".join(text.lower().split())
    return int.from_bytes(blake2b((salt + plain).encode(), digest_size=8).digest()) % buckets


def is_open(text: str) -> bool:
    """Tell whether a text belongs to the open test: never train or tune on it."""
    return bucket(text, OPEN) == 0


def is_apart(text: str) -> bool:
    """Tell whether a text is kept out of training to calibrate what was trained."""
    return bucket(text, APART, "apart ") == 0


def sayings(book: Book) -> Iterator[Example]:
    """Yield the book's own sayings and names."""
    for kind, name, answer, text in sayings_of(book):
        meaning = class_of(kind, name, answer)
        sort = "called" if kind == "called" else "saying"
        yield Example(text, sort, (meaning,), tuple(implied(book, [meaning])))
    for name, entry in book.measurements.items():
        for text in dict.fromkeys((entry.name, *entry.also)):
            yield Example(text, "reading", (MEASURED_AS + name,))


def implied(book: Book, meanings: Iterable[str]) -> Iterator[str]:
    """Yield the answers without which what is meant makes no sense: they may be taken as well."""
    for meaning in meanings:
        look = book.looks.get(meaning.partition("=")[0])
        if look is not None:
            for other, answers in look.only_if.items():
                yield from (f"{other}={answer}" for answer in answers)


def utterances(book: Book, said: Said) -> Iterator[Example]:
    """Yield what people say, each text with its labels."""
    for row in said.utterances:
        may = tuple(dict.fromkeys([*row.may, *implied(book, row.means)]))
        yield Example(row.text, "remark" if row.whole else "said", row.means, may, row.never)
    for word in said.fault_words:
        names = tuple(CALLED_AS + name for name in word.means)
        yield Example(word.text, "called", names, shares=tuple(word.means.values()))
    for name in said.reading_names:
        yield Example(name.text, "reading", tuple(MEASURED_AS + m for m in name.means))


def corpus(book: Book, folder: Path) -> list[Example]:
    """Return all examples that are not part of the open test."""
    said = [e for e in utterances(book, said_in(book, folder)) if not is_open(e.text)]
    return [*sayings(book), *said]


def as_data(examples: Iterable[Example]) -> list[dict[str, Any]]:
    """Return examples as plain data."""
    return [
        {"text": e.text, "kind": e.kind, "means": e.means, "may": e.may, "never": e.never,
         "shares": e.shares}
        for e in examples
    ]  # fmt: skip


def example_of(row: dict[str, Any]) -> Example:
    """Return an example from plain data."""
    plain: dict[str, Any] = {k: tuple(v) if isinstance(v, list) else v for k, v in row.items()}
    return Example(**plain)


def data_hash(data: Any) -> str:
    """Return the hash of what was trained on, to be written beside the weights."""
    text = json.dumps(data, ensure_ascii=False, sort_keys=True)
    return blake2b(text.encode(), digest_size=20).hexdigest()
