"""What people say, labelled, must name what is in the book, and say one thing of one question.

Passes: ``{text: "slick inside", means: [cavity-wall=smooth], not: [cavity-wall=jagged]}``.
Fails:  an id or an answer that the book does not have; two answers to one question under ``means``,
which exclude each other; an answer both meant and not meant; a text that stands twice; shares of a
fault word that do not add up to one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import isclose

from diagnose.basics.errors import Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.rulebase.draft import Draft
from diagnose.rulebase.said import Row, Said, Utterance, said_in


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every row that cannot stand."""
    said = said_in(draft.book, draft.folder)
    yield from said.problems
    yield from _utterances(draft, said)
    yield from _words(draft, said)
    yield from _twice("utterance", said.utterances)
    yield from _twice("fault word", said.fault_words)


def _utterances(draft: Draft, said: Said) -> Iterator[Problem]:
    book = draft.book
    known = {f"{name}={answer}" for name, look in book.looks.items() for answer in look.answers}
    known |= {f"{name}={answer}" for name, one in book.checks.items() for answer in one.answers}
    for row in said.utterances:
        for name in (*row.means, *row.may, *row.never):
            if name not in known:
                what = f"There is no answer {name!r}."
                yield _problem(row, what, did_you_mean(name, known, "answer"))
        yield from _exclusive(row)


def _exclusive(row: Utterance) -> Iterator[Problem]:
    asked: dict[str, str] = {}
    for name in row.means:
        question = name.partition("=")[0]
        if asked.setdefault(question, name) != name:
            what = f"{asked[question]!r} and {name!r} exclude each other."
            yield _problem(row, what, "Keep the one that is said, or put both under 'may'.")
    for name in {*row.means} & {*row.never}:
        what = f"{name!r} stands under 'means' and under 'not'."
        yield _problem(row, what, "Keep it in one of the two.")


def _words(draft: Draft, said: Said) -> Iterator[Problem]:
    for word in said.fault_words:
        for name in word.means:
            if name not in draft.book.defects:
                way_out = did_you_mean(name, draft.book.defects, "fault")
                yield _problem(word, f"There is no fault {name!r}.", way_out)
        if word.means and not isclose(sum(word.means.values()), 1.0, abs_tol=0.01):
            yield _problem(word, "The shares do not add up to 1.", "Say how often each is meant.")
    for reading in said.reading_names:
        for name in reading.means:
            if name not in draft.book.measurements:
                way_out = did_you_mean(name, draft.book.measurements, "measurement")
                yield _problem(reading, f"There is no measurement {name!r}.", way_out)


def _twice(kind: str, rows: Iterable[Row]) -> Iterator[Problem]:
    first: dict[str, Row] = {}
    for row in rows:
        before = first.setdefault(" ".join(row.text.casefold().split()), row)
        if before is not row:
            where = before.document.place_of(before.steps)
            what = f"This {kind} stands twice; the first is in {where}."
            yield _problem(row, what, "Keep one of the two.")


def _problem(row: Row, what: str, instead: str) -> Problem:
    return Problem(row.document.place_of(row.steps), what, instead)
