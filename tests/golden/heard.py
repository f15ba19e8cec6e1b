"""``python -m tests.golden.heard``: how much of what people say is heard, and how much wrongly.

The open test is what training and tuning never see: the phrases in ``open_phrases.yml``, written by
another hand and labelled with alternatives, and every fifth utterance and reading's name of
``knowledge/said/``, chosen by a fixed hash of its text. It is for measuring only: no word, rule,
threshold or weight is changed because of a single case in it.

All labels are invented; common practice, no source. "Wrong" counts every taking that the labels
neither demand nor allow; an answer without which what is labelled makes no sense (``only if``) is
allowed.
"""

from __future__ import annotations

import json
import sys
import time
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import yaml

from diagnose.reject.found import CALLED
from diagnose.rulebase.book import Book
from diagnose.rulebase.folder import knowledge_folder
from diagnose.rulebase.load import load
from diagnose.rulebase.said import said_in
from diagnose.words.heard import Heard, Meaning
from diagnose.words.reader import Reader
from diagnose.words.training.corpus import implied, is_open

PHRASES = Path(__file__).with_name("open_phrases.yml")
STORED = Path(__file__).with_name("heard.json")
FIRST = 5


@dataclass(frozen=True, slots=True)
class Labelled:
    """A phrase: the things it says, each as one or more answers as good; what else may be taken."""

    text: str
    means: tuple[tuple[str, ...], ...]
    may: frozenset[str]
    never: frozenset[str]

    @property
    def right(self) -> frozenset[str]:
        return self.may.union(*self.means)


def open_phrases(book: Book) -> list[Labelled]:
    """Return the phrases written by another hand."""
    rows = yaml.safe_load(PHRASES.read_text(encoding="utf-8"))["phrases"]
    return [labelled(book, r["text"], r["means"], flat(r["may"]), flat(r["not"])) for r in rows]


def flat(ways: Iterable[Sequence[str] | str]) -> list[str]:
    """Return names out of lists of names."""
    return [name for one in ways for name in ([one] if isinstance(one, str) else one)]


def open_utterances(book: Book) -> list[Labelled]:
    """Return every fifth utterance of the corpus."""
    rows = said_in(book, knowledge_folder()).utterances
    return [
        labelled(book, r.text, [[m] for m in r.means], r.may, r.never)
        for r in rows
        if is_open(r.text)
    ]


def labelled(
    book: Book,
    text: str,
    means: Iterable[Sequence[str]],
    may: Iterable[str],
    never: Iterable[str],
) -> Labelled:
    """Return a phrase with its labels by the names that the book has now."""

    def now(names: Iterable[str]) -> tuple[str, ...]:
        return tuple(book.renamed.get(name, name) for name in names)

    said = tuple(now(one) for one in means)
    allowed = {*now(may), *(x for one in said for x in implied(book, one))}
    return Labelled(text, said, frozenset(allowed), frozenset(now(never)))


@dataclass(frozen=True, slots=True)
class Figures:
    """What the open test says. Shares of what is said, of what is taken, and of phrases."""

    phrases: int
    said: int
    taken: float
    wrong: float
    harmful: float
    among_first: float
    off: float


def name_of(meaning: Meaning) -> str:
    return f"{meaning.id}={meaning.answer}"


def figures(rows: Sequence[Labelled], heard: Sequence[Heard]) -> Figures:
    """Compare what was heard with the labels."""
    said = taken = hit = wrong = harmful = first = 0
    chances: list[tuple[float, bool]] = []
    for row, one in zip(rows, heard, strict=True):
        got = [name_of(m) for m in one.taken if m.kind != CALLED]
        offered = [name_of(m) for m in (*one.likely, *one.nearest) if m.kind != CALLED]
        ranked = list(dict.fromkeys([*got, *offered]))[: max(FIRST, len(got))]
        said += len(row.means)
        hit += sum(bool({*got} & {*ways}) for ways in row.means)
        first += sum(bool({*ranked} & {*ways}) for ways in row.means)
        taken += len(got)
        wrong += sum(name not in row.right for name in got)
        harmful += any(name in row.never for name in got)
        chances += [
            (m.probability, name_of(m) in row.right) for m in one.likely if m.kind != CALLED
        ]
    return Figures(
        len(rows), said, hit / said, wrong / max(taken, 1), harmful / len(rows), first / said,
        calibration_error(chances),
    )  # fmt: skip


def calibration_error(chances: Sequence[tuple[float, bool]], bins: int = 5) -> float:
    """Return how far probabilities lie from what comes true, on the average over equal heaps."""
    if not chances:
        return 0.0
    ordered = np.array(sorted(chances), dtype=float)
    heaps = np.array_split(ordered, bins)
    return float(
        sum(len(h) * abs(h[:, 0].mean() - h[:, 1].mean()) for h in heaps if len(h)) / len(ordered)
    )


def readings(book: Book, reader: Reader) -> tuple[int, float, float]:
    """Return how many reading's names are kept out, and the shares taken right and for another."""
    rows = [r for r in said_in(book, knowledge_folder()).reading_names if is_open(r.text)]
    sure = [reader.gauges.named(r.text, r.value).sure for r in rows]
    known = [(r, one) for r, one in zip(rows, sure, strict=True) if r.means]
    right = sum(one in r.means for r, one in known) / len(known)
    wrong = sum(bool(one) and one not in r.means for r, one in zip(rows, sure, strict=True))
    return len(rows), right, wrong / len(rows)


def by_question(rows: Sequence[Labelled], heard: Sequence[Heard]) -> dict[str, tuple[int, float]]:
    """Return question -> how often it is answered, and the share of that which is taken down."""
    found: dict[str, list[bool]] = defaultdict(list)
    for row, one in zip(rows, heard, strict=True):
        got = {name_of(m) for m in one.taken}
        for ways in row.means:
            found[ways[0].partition("=")[0]].append(bool(got & {*ways}))
    return {name: (len(hits), sum(hits) / len(hits)) for name, hits in found.items()}


def main(show: str = "") -> None:
    """Print the figures; ``questions``: also the share heard of each question, the worst first.

    ``store``: keep the figures of the phrases and of the readings' names beside this file.
    """
    book = load()
    start = time.perf_counter()
    reader = Reader(book)
    reader.hear(["hole"])
    first = time.perf_counter() - start
    phrases, fifth = open_phrases(book), open_utterances(book)
    start = time.perf_counter()
    of_phrases = reader.hear([row.text for row in phrases])
    each = (time.perf_counter() - start) / len(phrases)
    of_fifth = reader.hear([row.text for row in fifth])
    tables = {
        "phrases": figures(phrases, of_phrases),
        "every fifth": figures(fifth, of_fifth),
        "both": figures([*phrases, *fifth], [*of_phrases, *of_fifth]),
    }
    heads = {"phrases": 9, "said": 7, "taken": 8, "wrong": 8, "harmful": 9, "first 5": 9, "off": 7}
    print(f"{'':12}" + "".join(f"{name:>{width}}" for name, width in heads.items()))
    for name, f in tables.items():
        print(
            f"{name:12}{f.phrases:9}{f.said:7}{f.taken:8.2f}{f.wrong:8.2f}{f.harmful:9.3f}"
            f"{f.among_first:9.2f}{f.off:7.3f}"
        )
    count, right, wrong = readings(book, reader)
    print(f"readings: {count} names, right {right:.2f}, for another {wrong:.3f}")
    print(f"first phrase {1000 * first:.0f} ms, later ones {1000 * each:.0f} ms")
    if show == "store":
        kept = {k: getattr(tables["phrases"], k) for k in Figures.__slots__}
        stored = {"phrases": kept, "readings": {"right": right, "wrong": wrong}}
        STORED.write_text(json.dumps(stored, indent=1) + "\n", encoding="utf-8")
    if show == "questions":
        table = by_question([*phrases, *fifth], [*of_phrases, *of_fifth])
        for name, (many, share) in sorted(table.items(), key=lambda item: item[1][1]):
            print(f"{share:6.2f} of {many:3}  {name}")
    print(json.dumps({name: {k: getattr(f, k) for k in f.__slots__} for name, f in tables.items()}))


if __name__ == "__main__":
    main(*sys.argv[1:])
