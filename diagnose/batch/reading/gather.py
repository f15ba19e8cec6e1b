"""All sheets of a batch brought together: words named, castings poured matched, cells counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from diagnose.batch.reading.account import Mask
from diagnose.batch.reading.common import Shared
from diagnose.batch.reading.counting import cells_of, put, put_words
from diagnose.batch.reading.data import (
    UNKNOWN,
    Arrays,
    BatchData,
    Floats,
    Lines,
    Readings,
    Remark,
    Word,
)
from diagnose.batch.reading.faultwords import NO_FAULT, FaultWords, Named
from diagnose.batch.reading.given import Progress
from diagnose.batch.reading.holds import FACTORS
from diagnose.batch.reading.layout import READINGS, SCRAP, Page
from diagnose.batch.reading.matching import filled_in, keep_matched
from diagnose.batch.reading.scrap import Part
from diagnose.batch.reading.senses import OWN
from diagnose.batch.result import Rows, UnknownWord
from diagnose.batch.tables.engine import engine

if TYPE_CHECKING:
    from diagnose.session.library import Library

ALL = (*FACTORS, "hour")
MOST_WORDS = 5_000
"""Different fault words that are made out, the most frequent first; a shop has some hundred."""
MOST_REMARKS = 2_000
"""Different remarks that are read, the most frequent first; each takes some ten milliseconds."""
REMARKS_A_TIME = 64
MOST_SLIPS = 5
"""Levels that may be slips, of each factor, that are told of."""


@dataclass(slots=True)
class Gathered:
    """What was read of the sheets so far."""

    shared: Shared
    words: FaultWords
    library: Library
    tell: Progress
    parts: list[tuple[Page, Part]] = field(default_factory=list)
    unread: list[Rows] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)

    def add(self, page: Page, part: Part) -> None:
        """Add a sheet."""
        self.parts.append((page, part))
        self.warnings += [f"{page.where}: {remark}" for remark in part.remarks]

    def of(self, kind: str) -> list[tuple[Page, Part]]:
        """Return the sheets of one kind."""
        return [(page, part) for page, part in self.parts if page.kind == kind]


def gathered(gather: Gathered, source: str) -> BatchData:
    """Return everything as one batch."""
    lines = _lines(gather)
    poured = _joined([part.poured for _, part in gather.parts if part.poured])
    factors = [name for name in ALL if name in lines and (lines[name] >= 0).any()]
    denominators = [name for name in ALL if name in poured and (poured[name] >= 0).any()]
    gather.warnings += filled_in(lines, poured, factors, denominators)
    poured, told = keep_matched(gather.of(SCRAP), lines, poured, factors)
    gather.warnings += told
    levels = _sorted_levels(gather, [lines, poured, *(p.lines for _, p in gather.of(READINGS))])
    named = _named(gather, lines)
    named = _without_unused(named, lines)
    faults, shares = _faults(named)
    shared = [name for name in factors if name in denominators] if poured else factors
    with engine() as running:
        words = put_words(running, shares)
        columns = ["day", "minute", "word", "castings", "weight", "cost", *factors]
        scrap = put(running, "scrap", lines, columns)
        made = (
            put(running, "poured", poured, ["day", "minute", "castings", *shared])
            if poured
            else None
        )
        gather.tell(0.65, "counting")
        cells, left = cells_of(running, scrap, words, shared, len(faults), made)
        gather.tell(0.75, "counting")
        whole, left_too = cells_of(running, scrap, words, factors, len(faults)) if (
            poured or left) else (cells, left)  # fmt: skip
    for factor in dict.fromkeys([*left, *left_too]):
        gather.warnings.append(f"There are too many levels of {factor} to tell cells apart by it.")
    _say_what_lacks(gather, lines, poured)
    days = _days(lines, poured)
    return BatchData(
        source, _rows(gather), faults, tuple(factors), levels, cells,
        whole, _as_lines(gather, lines, factors), _words(gather, named, lines),
        _remarks(gather, lines), _readings(gather), _unknown(gather, named, lines),
        tuple(dict.fromkeys(gather.warnings)), _headings(gather),
        days[0] if days else None, days[1] if days else None,
        bool((lines["weight"] > 0.0).any()), bool((lines["cost"] > 0.0).any()), _accounts(gather),
    )  # fmt: skip


# lines


def _joined(parts: Sequence[Arrays]) -> Arrays:
    """Return parts one after the other; a factor that a part lacks is not known there."""
    if not parts:
        return {}
    if len(parts) == 1:
        return parts[0]
    names = dict.fromkeys(name for part in parts for name in part)
    size = [len(part["day"]) for part in parts]
    return {
        name: np.concatenate(
            [part.get(name, np.full(n, -1, np.int32)) for part, n in zip(parts, size, strict=True)]
        )
        for name in names
    }


def _lines(gather: Gathered) -> Arrays:
    """Return the lines of all scrap sheets, each with the number of its sheet."""
    parts = []
    for number, (_, part) in enumerate(gather.of(SCRAP)):
        size = len(part.lines["day"])
        parts.append(part.lines | {"sheet": np.full(size, number, dtype=np.int32)})
    if not parts:
        from diagnose.basics.errors import Fault

        raise Fault("There is no sheet of castings scrapped among the files.")
    return _joined(parts)


def _sorted_levels(gather: Gathered, tables: Sequence[Arrays]) -> dict[str, tuple[str, ...]]:
    """Sort the levels of every factor, in all tables at once, and return them."""
    found = {}
    for factor, levels in gather.shared.levels.items():
        size = len(levels.names())
        counts = np.zeros(size, dtype=np.int32)
        for table in tables:
            if factor in table:
                codes = table[factor]
                counts += np.bincount(codes[codes >= 0], minlength=size).astype(np.int32)
        place, names = levels.sorting(counts)
        found[factor] = names
        for table in tables:
            if factor in table:
                table[factor] = place[table[factor]]
        for name, count, other, often in levels.slips(counts)[:MOST_SLIPS]:
            gather.warnings.append(
                f"{factor} {name!r} stands {count} times and is like {other!r}, which stands "
                f"{often} times. They are kept apart."
            )
    return found


def _as_lines(gather: Gathered, lines: Arrays, factors: Sequence[str]) -> Lines:
    codes = np.column_stack([lines[name] for name in factors]) if factors else np.zeros(
        (len(lines["day"]), 0), np.int32)  # fmt: skip
    return Lines(
        tuple(page.where for page, _ in gather.of(SCRAP)), lines["sheet"], lines["row"],
        tuple(factors), codes.astype(np.int32), lines["day"], lines["minute"], lines["word"],
        lines["remark"], lines["castings"], lines["weight"], lines["cost"],
    )  # fmt: skip


def _days(lines: Arrays, poured: Arrays) -> tuple[date, date] | None:
    days = np.concatenate([table["day"] for table in (lines, poured) if table])
    known = days[days > 0]
    if not known.size:
        return None
    return date.fromordinal(int(known.min())), date.fromordinal(int(known.max()))


def _say_what_lacks(gather: Gathered, lines: Arrays, poured: Arrays) -> None:
    if not poured:
        gather.warnings.append(
            "Without castings poured there are shares of the scrap, and no rates: a moulder who "
            "made twice as many castings has twice the scrap of an equal one."
        )
    without = round(float(lines["castings"][_without_word(gather, lines)].sum()))
    if without:
        gather.warnings.append(f"{without} castings have neither a fault word nor a remark.")


def _without_word(gather: Gathered, lines: Arrays) -> Mask:
    empty = [n for n, text in enumerate(gather.shared.words.texts) if not text.strip()]
    return np.isin(lines["word"], empty)


# words


def _named(gather: Gathered, lines: Arrays) -> list[Named]:
    """Return what the words mean; of very many only the most frequent are looked at."""
    texts = gather.shared.words.texts
    order = np.argsort(-_counted(gather, lines), kind="stable")[:MOST_WORDS].tolist()
    known = dict(zip(order, gather.words.named([texts[n] for n in order]), strict=True))
    if len(texts) > len(known):
        gather.warnings.append(
            f"There are {len(texts)} different fault words; the {MOST_WORDS} most frequent were "
            "made out. Is it the right column?"
        )
    return [known.get(n, Named(text, (), NO_FAULT)) for n, text in enumerate(texts)]


def _without_unused(named: Sequence[Named], lines: Arrays) -> list[Named]:
    """Return the words, those of rows that were all set aside as meaning nothing."""
    used = np.bincount(lines["word"], minlength=len(named)) > 0
    return [w if used[n] else replace(w, faults=(), how="unused") for n, w in enumerate(named)]


def _faults(named: Sequence[Named]) -> tuple[tuple[str, ...], list[list[tuple[int, float]]]]:
    """Return the faults that are meant, and for each word the places and shares of its own."""
    ids = sorted({name for word in named for name, _ in word.faults})
    place = {name: number for number, name in enumerate(ids)}
    faults = [*ids, UNKNOWN] if any(not w.faults and w.how != "unused" for w in named) else ids
    shares = [
        [(place[name], share) for name, share in word.faults] or [(len(ids), 1.0)] for word in named
    ]
    return tuple(faults), shares


def _counted(gather: Gathered, lines: Arrays) -> Floats:
    counts = np.bincount(lines["word"], lines["castings"], len(gather.shared.words.texts))
    return counts.astype(np.float64)


def _words(gather: Gathered, named: Sequence[Named], lines: Arrays) -> tuple[Word, ...]:
    counts = _counted(gather, lines)
    return tuple(
        Word(
            word.text, float(counts[n]),
            word.faults or (((UNKNOWN, 1.0),) if word.how != "unused" else ()),
            "remark" if n in gather.shared.instead and word.faults else word.how,
        )
        for n, word in enumerate(named)
    )  # fmt: skip


def _unknown(gather: Gathered, named: Sequence[Named], lines: Arrays) -> tuple[UnknownWord, ...]:
    """Return the words that are not known, the most frequent first; remarks are none of them."""
    counts = _counted(gather, lines)
    found = [
        UnknownWord(word.text, round(float(counts[n])), word.nearest)
        for n, word in enumerate(named)
        if not word.faults and word.text.strip() and counts[n] and n not in gather.shared.instead
    ]
    return tuple(sorted(found, key=lambda one: (-one.count, one.word)))


def _remarks(gather: Gathered, lines: Arrays) -> tuple[Remark, ...]:
    """Return the remarks with what was heard in them; of very many only the most frequent."""
    from diagnose.words.heard import Heard

    texts = gather.shared.remarks.texts
    if not texts:
        return ()
    counts = gather.shared.remarks.counts(lines["remark"], lines["castings"])
    order = np.argsort(-counts, kind="stable")[:MOST_REMARKS]
    if len(texts) > MOST_REMARKS:
        gather.warnings.append(
            f"There are {len(texts)} different remarks; the {MOST_REMARKS} most frequent were read."
        )
    heard: dict[int, Heard] = {}
    for at in range(0, len(order), REMARKS_A_TIME):
        gather.tell(0.8 + 0.2 * at / len(order), "remarks")
        some = [int(n) for n in order[at : at + REMARKS_A_TIME]]
        phrases = gather.library.reader.hear([texts[n] for n in some])
        heard |= dict(zip(some, phrases, strict=True))
    return tuple(
        Remark(text, float(counts[n]), heard.get(n, Heard(text))) for n, text in enumerate(texts)
    )


# readings


def _readings(gather: Gathered) -> Readings | None:
    table = _joined([part.lines for _, part in gather.of(READINGS) if len(part.lines["value"])])
    if not table:
        return None
    book = gather.library.book.measurements
    ids = tuple(dict.fromkeys(table["quantity"]))
    place = {name: number for number, name in enumerate(ids)}
    units = dict(_own_units(gather))
    return Readings(
        ids,
        tuple(book[q].name if q in book else q.removeprefix(OWN) for q in ids),
        tuple(book[q].unit if q in book else units.get(q, "") for q in ids),
        np.array([place[name] for name in table["quantity"]], dtype=np.int32),
        table["value"].astype(np.float64), table["day"].astype(np.int32),
        table["minute"].astype(np.float64), table["heat"].astype(np.int32),
        table["pattern"].astype(np.int32),
    )  # fmt: skip


def _own_units(gather: Gathered) -> Iterator[tuple[str, str]]:
    for page, _ in gather.of(READINGS):
        for held in page.columns:
            if held.holds.startswith(OWN):
                yield held.holds, held.unit


# the account


def _accounts(gather: Gathered) -> tuple[tuple[str, str, Rows], ...]:
    return tuple(
        (page.where, page.kind, part.account.rows(part.quoted)) for page, part in gather.parts
    )


def _rows(gather: Gathered) -> Rows:
    every = [rows for *_, rows in _accounts(gather)] + gather.unread
    return Rows(
        sum(rows.read for rows in every), sum(rows.used for rows in every),
        tuple(one for rows in every for one in rows.aside),
    )  # fmt: skip


def _headings(gather: Gathered) -> tuple[tuple[str, str], ...]:
    names = gather.shared.names
    several = Counter(column.heading for page, _ in gather.parts for column in page.columns)
    found: Mapping[tuple[str, str], None] = dict.fromkeys(
        (column.heading, names.called(column.holds))
        for page, _ in gather.parts
        for column in page.columns
        if several[column.heading]
    )
    return tuple(found)
