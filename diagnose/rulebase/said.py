"""What people say, labelled: the corpus in ``knowledge/said/`` that the reader is trained with.

Each file holds one or more of four lists: ``said`` (what people say to one question; what else it
says need not be labelled), ``remarks`` (whole remarks, labelled with everything that they say),
``fault words`` (what scrap sheets call a fault) and ``reading names`` (what shops call what they
measure).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from diagnose.basics.errors import Fault, Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.rulebase.book import Book
from diagnose.rulebase.yamlread import Document, Steps, read

FOLDER = "said"
"""In the knowledge folder; what is in it is no rule."""
LISTS = ("said", "remarks", "fault words", "reading names")


@dataclass(frozen=True, slots=True)
class Utterance:
    """A sentence with the answers that it states, may state, and only seems to state.

    ``whole``: everything that it says is labelled.
    """

    text: str
    means: tuple[str, ...]
    may: tuple[str, ...]
    never: tuple[str, ...]
    whole: bool
    document: Document = field(compare=False)
    steps: Steps = field(compare=False)


@dataclass(frozen=True, slots=True)
class FaultWord:
    """What a sheet calls a fault; ``means``: defect -> how likely it is meant, adding up to 1."""

    text: str
    means: Mapping[str, float]
    document: Document = field(compare=False)
    steps: Steps = field(compare=False)


@dataclass(frozen=True, slots=True)
class ReadingName:
    """What a shop calls a measurement, with a value as it would be written."""

    text: str
    value: str
    means: tuple[str, ...]
    document: Document = field(compare=False)
    steps: Steps = field(compare=False)


Row = Utterance | FaultWord | ReadingName


@dataclass(slots=True)
class Said:
    """All rows of the corpus, and what was wrong with the files that they stand in."""

    utterances: list[Utterance] = field(default_factory=list)
    fault_words: list[FaultWord] = field(default_factory=list)
    reading_names: list[ReadingName] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


def said_in(book: Book, folder: Path) -> Said:
    """Read the corpus of a knowledge folder; an id that was renamed is taken by its new name."""
    said = Said()
    for path in sorted((folder / FOLDER).rglob("*.yaml")):
        try:
            document = read(path, path.relative_to(folder).as_posix())
        except Fault as fault:
            said.problems.extend(fault.problems)
            continue
        for problem in _take(book, said, document):
            said.problems.append(problem)
    return said


def _take(book: Book, said: Said, document: Document) -> Iterator[Problem]:
    data = document.data if isinstance(document.data, dict) else {"": None}
    for key, rows in data.items():
        if key not in LISTS or not isinstance(rows, list):
            instead = did_you_mean(str(key), LISTS, "list")
            yield Problem(
                document.place_of((key,), key=True), f"No list is called {key!r}.", instead
            )
            continue
        make: Callable[[Book, Any, Document, Steps], Row] = _MAKERS[key]
        into: list[Any] = getattr(said, _FIELDS[key])
        for number, row in enumerate(rows):
            steps = (key, number)
            try:
                into.append(make(book, row, document, steps))
            except (KeyError, TypeError, ValueError, AttributeError):
                instead = f"Write it like this: {_EXAMPLES[key]}"
                yield Problem(document.place_of(steps), "This row cannot be read.", instead)


def _utterance(book: Book, row: Any, document: Document, steps: Steps) -> Utterance:
    def answers(key: str) -> tuple[str, ...]:
        return tuple(book.renamed.get(name, name) for name in _texts(row.get(key, [])))

    return Utterance(
        _text(row["text"]),
        answers("means"),
        answers("may"),
        answers("not"),
        steps[0] == "remarks",
        document,
        steps,
    )


def _fault_word(_book: Book, row: Any, document: Document, steps: Steps) -> FaultWord:
    means = {str(name): float(share) for name, share in row["means"].items()}
    return FaultWord(_text(row["fault"]), means, document, steps)


def _reading_name(_book: Book, row: Any, document: Document, steps: Steps) -> ReadingName:
    value = document.written.get((*steps, "value"), row["value"])
    return ReadingName(_text(row["name"]), str(value), _texts(row["means"]), document, steps)


def _text(value: Any) -> str:
    if not isinstance(value, str) or not value.strip():
        raise ValueError(value)
    return value


def _texts(values: Any) -> tuple[str, ...]:
    if not isinstance(values, list):
        raise TypeError(values)
    return tuple(_text(value) for value in values)


_MAKERS: dict[str, Callable[[Book, Any, Document, Steps], Row]] = {
    "said": _utterance, "remarks": _utterance, "fault words": _fault_word,
    "reading names": _reading_name,
}  # fmt: skip
_FIELDS = {
    "said": "utterances", "remarks": "utterances", "fault words": "fault_words",
    "reading names": "reading_names",
}  # fmt: skip
_EXAMPLES = {
    "said": '{text: "slick inside", means: [cavity-wall=smooth], not: []}',
    "remarks": '{text: "slick holes up top", means: [cavity-wall=smooth], may: [], not: []}',
    "fault words": '{fault: "H/T", means: {hot-tear: 1}}',
    "reading names": '{name: "moist %", value: "4.6", means: [moulding-sand-moisture]}',
}
