"""Turn the corpus into the data that the training reads: classes, pieces and examples."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from diagnose.rulebase.book import Book
from diagnose.words.classes import CALLED_AS, MEASURED_AS
from diagnose.words.pieces import FIRST, INSIDE, LAST, UNKNOWN, Vocabulary
from diagnose.words.training.corpus import as_data, corpus, data_hash

SHARE = 0.1
"""Share of the looks that must build on one for it to be a first look."""
PIECES = 12_000
"""Pieces of words that are kept of the base encoder's: all that the corpus uses, then the first."""


def prepare(book: Book, folder: Path, base_pieces: Sequence[str]) -> dict[str, Any]:
    """Return what ``train`` needs, as plain data."""
    examples = corpus(book, folder)
    classes = classes_of(book)
    known = set(classes)
    examples = [e for e in examples if known.issuperset(e.means)]
    kept = kept_pieces(base_pieces, (e.text for e in examples))
    rows = as_data(examples)
    return {
        "classes": classes,
        "kept": kept,
        "pieces": [base_pieces[number] for number in kept],
        "first looks": first_looks(book),
        "examples": rows,
        "hash": data_hash(rows),
    }


def first_looks(book: Book) -> list[str]:
    """Return the looks that tell what the fault is: so many others make sense only under them."""
    built_on = Counter(other for look in book.looks.values() for other in look.only_if)
    return [name for name, many in built_on.items() if many >= SHARE * len(book.looks)]


def classes_of(book: Book) -> list[str]:
    """Return everything that the classifier tells apart, in the order of the book."""
    return [
        *(f"{name}={answer}" for name, look in book.looks.items() for answer in look.answers),
        *(f"{name}={answer}" for name, check in book.checks.items() for answer in check.answers),
        *(CALLED_AS + name for name in book.defects),
        *(MEASURED_AS + name for name in book.measurements),
    ]


def kept_pieces(base: Sequence[str], texts: Iterable[str]) -> list[int]:
    """Return the numbers of the pieces to keep, in the order of the base vocabulary."""
    cut = Vocabulary(list(base))
    used = Counter(piece.number for text in texts for piece in cut.pieces(text))
    number = {text: k for k, text in enumerate(base)}
    kept = {number[name] for name in (UNKNOWN, FIRST, LAST)} | set(used)
    kept |= {k for text, k in number.items() if len(text.removeprefix(INSIDE)) == 1}
    for text, k in number.items():
        if len(kept) >= PIECES:
            break
        if text.removeprefix(INSIDE).isascii() and not text.startswith("["):
            kept.add(k)
    return sorted(kept)
