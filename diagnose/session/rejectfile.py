"""A reject as a YAML file: read with every fault at once, written so that it reads back."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from diagnose.basics.atomic_write import write_whole
from diagnose.basics.errors import Fault, Place, Problem
from diagnose.reasoning.taking import (
    check_found,
    look_found,
    measurement_found,
    named_found,
    ruled_out_found,
)
from diagnose.reject.found import (
    CALLED,
    CHECK,
    LOOK,
    MEASUREMENT,
    RULED_OUT,
    UNSURE,
    Called,
    Checked,
    Found,
    Hearing,
    Looked,
    RuledOut,
    excludes,
    without_words,
)
from diagnose.reject.reject import Reject, one_line
from diagnose.rulebase.faults import FaultsOf
from diagnose.rulebase.renamed import now_asked, now_called
from diagnose.rulebase.yamlread import Steps, read
from diagnose.session.headings import KEYS, TICKET, way_out
from diagnose.session.session import Session

if TYPE_CHECKING:
    from diagnose.rulebase.book import Book
    from diagnose.words.heard import Heard
    from diagnose.words.readings import Named

T = TypeVar("T")
LIMIT = 100_000
"""Bytes; nobody writes more about one reject."""
KEPT_LIMIT = 10 * LIMIT
"""Bytes; what was kept by an older program, which took more, is read again."""
EXAMPLE = "Write at least one line under 'seen:', such as '- smooth round holes near the core'."


@dataclass(slots=True)
class FileRead(FaultsOf):
    """A reject file as far as it has been read into a session.

    ``heard``: what each phrase was taken for. ``assumed``: what the file left out. ``left_out``:
    what stands in the file and was not worked with. ``named``: readings by other names than the
    book's, and what they were taken for. ``kept``: by the program, so that nothing is refused.
    """

    session: Session
    phrases: list[str] = field(default_factory=list)
    heard: list[Heard] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    named: list[tuple[str, Named]] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    taken: list[tuple[Steps, Found]] = field(default_factory=list)
    kept: bool = False

    def tried(self, steps: Steps, make: Callable[[], T], *, key: bool = False) -> T | None:
        """Return what is made; what went wrong is noted, or of a kept reject kept as words."""
        if not self.kept:
            return super(FileRead, self).tried(steps, make, key=key)
        try:
            return make()
        except Fault:
            words = self._words(steps)
            self.session.keep_phrases([words])
            self.left_out.append(f"{self.document.place_of(steps)}: “{words}” is not known now.")
            return None

    def _words(self, steps: Steps) -> str:
        """Return what stands at a place, in words."""
        part: Any = self.document.data
        for step in steps:
            part = part[step]
        if isinstance(part, dict):
            told = " ".join(f"{part[kind]}" for kind in (*_ENTRY, "not", "answer") if kind in part)
            said = one_line(str(part.get("said", "")))
            return f"{said} ({one_line(told)})" if said else one_line(told)
        if isinstance(part, list):
            part = ", ".join(map(str, part))
        return one_line(": ".join([*(str(s) for s in steps if isinstance(s, str)), str(part)]))

    def take(self, steps: Steps, found: Found | None) -> None:
        """Take a finding down, unless another line of the file excludes it."""
        if found is None:
            return
        before = next((one for one in self.taken if excludes(one[1], found)), None)
        if before is None:
            alike = without_words(found)
            if all(without_words(one) != alike for _, one in self.taken):
                self.session.add(found)
            self.taken.append((steps, found))
        else:
            line = self.document.place_of(before[0]).line
            self.fault(
                steps,
                f"{_in_short(found)} here and {_in_short(before[1])} on line {line} exclude "
                "each other.",
                "Keep the one that is true.",
            )


def _in_short(found: Found) -> str:
    if found.kind == CALLED or found.kind == UNSURE:
        return f"'{found.kind}: {found.id}'"
    if found.kind == MEASUREMENT:
        return f"'{found.id}: {', '.join(f'{value:g}' for value in found.readings)}'"
    said = " ".join(found.answers) if found.kind == RULED_OUT else found.answer
    return f"'{found.id}: {said}'"


def read_reject(
    source: Path | str, session: Session, *, begun: bool = False, content: bytes | None = None
) -> FileRead:
    """Read a reject file (``-`` for standard input) into a fresh session.

    ``begun``: a reject that the program itself keeps: nothing need be found of it yet, and what
    the book no longer knows is kept as words. ``content``: of the file, where it was read already.
    Raises Fault with every fault of the file, each with line and column.
    """
    limit = KEPT_LIMIT if begun else LIMIT
    if content is not None:
        document = read(content, str(source), limit)
    elif str(source) == "-":
        if sys.stdin is None:
            raise Fault("Standard input is closed. Name a file, or put the reject into the pipe.")
        document = read(sys.stdin.buffer.read(LIMIT + 1), "standard input", LIMIT)
    else:
        document = read(Path(source), str(source), limit)
    reading = FileRead(document, session, kept=begun)
    if not isinstance(document.data, dict):
        reading.fault((), "This is not a reject: it must say what was seen.", EXAMPLE)
        raise Fault(*reading.problems)
    for key in document.data:
        if key not in KEYS:
            reading.fault((key,), f"No heading is called {key!r}.", way_out(key), key=True)
    _read_about(reading)
    _read_list(reading, "seen", _phrase_or_answer)
    _read_list(reading, "checked", _phrase_or_answer)
    _hear(reading)
    _read_measured(reading)
    _read_list(reading, "unsure", _unsure)
    reject = session.reject
    said = begun or reject.findings or reject.not_understood or reject.other_readings
    if not reading.problems and not said:
        reading.fault((), "Nothing was seen, checked or measured.", EXAMPLE)
    reading.raise_any()
    return reading


def _read_about(reading: FileRead) -> None:
    data = reading.document.data
    for key, argument in (
        ("reject", "name"), ("metal", "metal"), ("process", "process"), ("section", "section"),
        *TICKET.items(),
    ):  # fmt: skip
        value = data.get(key)
        if value is None:
            if key in ("metal", "process"):
                reading.assumed.append(
                    f"The {key} is not said: taken as {getattr(reading.session.reject, key)}."
                )
            continue
        if isinstance(value, (dict, list)):
            reading.fault((key,), f"{key!r} takes one value, not several.", "Write it on one line.")
            continue
        text = reading.document.written.get((key,), str(value))
        reading.tried((key,), partial(reading.session.about, **{argument: text}))


def _read_list(reading: FileRead, key: str, take: Callable[[FileRead, Steps, Any], None]) -> None:
    items = reading.document.data.get(key)
    if items is None:
        return
    if isinstance(items, str):
        take(reading, (key,), items)
        return
    if not isinstance(items, list):
        reading.fault((key,), f"{key!r} must be a list.", "Begin each line under it with '- '.")
        return
    for place, item in enumerate(items):
        take(reading, (key, place), item)


def _phrase_or_answer(reading: FileRead, steps: Steps, item: Any) -> None:
    book = reading.session.book
    if isinstance(item, str):
        _phrase(reading, item)
        return
    wanted = dict(item) if isinstance(item, dict) else {}
    if "heard" in wanted:
        _heard_before(reading, steps, wanted, wanted.pop("heard"))
        return
    said = one_line(_text(reading, (*steps, "said"), wanted.pop("said", "")))
    if said and not wanted:
        _kept(reading, said)
        return
    if not all(isinstance(value, str) for value in wanted.values()):
        wanted = {}
    wanted = _now(book, wanted)
    makers: dict[frozenset[str], Callable[[dict[str, str]], Found]] = {
        frozenset({LOOK, "not"}): lambda w: ruled_out_found(book, w[LOOK], w["not"].split(), said),
        frozenset({LOOK, "answer"}): lambda w: look_found(book, w[LOOK], w["answer"], said),
        frozenset({CHECK, "answer"}): lambda w: check_found(book, w[CHECK], w["answer"], said),
        frozenset({CALLED}): lambda w: named_found(book, w[CALLED], said),
    }
    make = makers.get(frozenset(wanted))
    if make is None:
        example = "{look: cavity-wall, answer: smooth}"
        what = "This is neither a phrase nor an exact answer."
        reading.fault(steps, what, f"Write plain words, or for example {example}.")
        return
    reading.take(steps, reading.tried(steps, partial(make, wanted)))


def _text(reading: FileRead, steps: Steps, value: Any) -> str:
    """Return a value as it was written: ``2e7`` is no 20000000.0 where words are meant."""
    return reading.document.written.get(steps, str(value))


def _now(book: Book, wanted: dict[str, str]) -> dict[str, str]:
    """Return an exact answer by what entry and answer are called now."""
    for kind in (LOOK, CHECK):
        for verb in ("answer", "not"):
            if kind in wanted and verb in wanted:
                pairs = [now_called(book, wanted[kind], one) for one in wanted[verb].split()]
                if pairs:
                    told = {kind: pairs[0][0], verb: " ".join(answer for _, answer in pairs)}
                    return wanted | told
    return wanted


def _phrase(reading: FileRead, phrase: str) -> None:
    """Leave a phrase to be heard with all the others."""
    reading.phrases.append(one_line(phrase))


def _hear(reading: FileRead) -> None:
    """Hear all phrases together; nothing that was read from words makes the file wrong."""
    heard = reading.session.understand_all(reading.phrases)
    for one in heard:
        reading.heard.append(one)
        reading.session.take_heard(one)


def _kept(reading: FileRead, said: str) -> None:
    """Keep words that were not understood before; by themselves they might be misunderstood."""
    from diagnose.words.heard import Heard

    reading.heard.append(Heard(said, missed=(said,)))
    reading.session.keep_phrases([said])


def _heard_before(reading: FileRead, steps: Steps, item: dict[str, Any], chance: Any) -> None:
    """Take down what was heard before, as it was kept."""
    words, phrase = (
        one_line(_text(reading, (*steps, key), item.pop(key, ""))) for key in ("said", "in")
    )
    kind = RULED_OUT if "not" in item else next((k for k in _ENTRY if k in item), "")
    entry = str(item.get(LOOK if kind == RULED_OUT else kind, ""))
    answer = str(item.get("not" if kind == RULED_OUT else "answer", ""))
    fits = isinstance(chance, int | float) and not isinstance(chance, bool) and 0 < chance <= 1
    verb = "not" if kind == RULED_OUT else "answer"
    wanted = {CALLED} if kind == CALLED else {LOOK if kind == RULED_OUT else kind, verb}
    if not (kind and fits and wanted == set(item)):
        example = "{look: cavity-wall, answer: smooth, heard: 0.8, said: slick}"
        reading.fault(steps, "This is not a thing that was heard.", f"Write for example {example}.")
        return
    entry, answer = now_called(reading.session.book, entry, answer)
    make = _ENTRY[LOOK if kind == RULED_OUT else kind]
    if reading.tried(steps, partial(make, reading.session.book, entry, answer)) is not None:
        one = Hearing(kind, entry, answer, float(chance), words, phrase or words)
        reading.session.keep_heard([one])


_ENTRY: dict[str, Callable[..., Found]] = {
    LOOK: look_found,
    CHECK: check_found,
    CALLED: lambda book, entry, _answer: named_found(book, entry),
}


def _unsure(reading: FileRead, steps: Steps, item: Any) -> None:
    if not isinstance(item, str):
        reading.fault(steps, "This is not the id of a question.", "Write it as a plain word.")
        return
    make = partial(reading.session.unsure_found, now_asked(reading.session.book, item))
    reading.take(steps, reading.tried(steps, make))


def _read_measured(reading: FileRead) -> None:
    items = reading.document.data.get("measured")
    if items is None:
        return
    if not isinstance(items, dict):
        example = "Write 'moulding sand moisture: 4.6 %' on a line of its own."
        reading.fault(("measured",), "'measured' must hold names and readings.", example)
        return
    for name, value in items.items():
        steps = ("measured", name)
        parts = value if isinstance(value, list) else [value]
        if any(isinstance(part, (dict, list)) for part in parts):
            example = "Write it on one line, such as 4.4, 4.6 %."
            reading.fault(steps, "A reading is a number with its unit.", example)
            continue
        written = reading.document.written
        if isinstance(value, list):
            texts = (written.get((*steps, k), str(part)) for k, part in enumerate(parts))
            text = "; ".join(texts)
        else:
            text = written.get(steps, value or "")
        _read_one(reading, steps, name, text)


def _read_one(reading: FileRead, steps: Steps, name: str, text: str) -> None:
    """Take a reading down; one whose name is not the book's and not clear is kept and told."""
    session = reading.session
    named = session.measurement_named(name, text)
    if named.candidates and named.candidates[0][1] == 1.0:  # by the letter
        make = partial(measurement_found, session.book, named.sure, text)
        reading.take(steps, reading.tried(steps, make))
        return
    why = ""
    if named.sure and session.reject.about(named.sure) is not None:
        why = f"it was measured already, as “{session.book.measurements[named.sure].name}”."
    elif not named.sure:
        why = _why_not(session, name, text, named)
    if why:
        place = reading.document.place_of(steps, key=True)
        session.keep_reading(name, text)
        reading.left_out.append(f"{place}: “{name}” is kept and nothing was made of it: {why}")
        return
    reading.take(steps, measurement_found(session.book, named.sure, text))
    reading.named.append((f"{name}: {text}", named))


def _why_not(session: Session, name: str, text: str, named: Named) -> str:
    """Say why nothing was made of a reading whose name is not clear."""
    near = [session.book.measurements[entry].name for entry in named.likely]
    if near:
        return f"it could be {' or '.join(f'“{one}”' for one in near)}. Write which."
    if meant := session.measurement_named(name, "").sure:
        try:
            measurement_found(session.book, meant, text)
        except Fault as fault:
            return fault.problems[0].what
    return "no reading is called so in the book."


def dump(reject: Reject, units: Callable[[str], str]) -> str:
    """Return the reject as YAML that reads back to the same; ``units`` gives a reading's unit."""
    import yaml

    about: dict[str, Any] = {
        "reject": reject.name, "metal": reject.metal, "process": reject.process,
    }  # fmt: skip
    if reject.section is not None:
        about["section"] = f"{_exactly(reject.section)} mm"
    about |= {key: told for key, name in TICKET.items() if (told := reject.ticket.entry(name))}
    parts: dict[str, Any] = {
        "seen": [
            *(_as_item(one) for one in reject.found if isinstance(one, Looked | RuledOut | Called)),
            *(_as_heard(one) for one in reject.heard if one.kind != CHECK),
            *({"said": words} for words in reject.not_understood),
        ],
        "checked": [
            *(_as_item(one) for one in reject.found if one.kind == CHECK),
            *(_as_heard(one) for one in reject.heard if one.kind == CHECK),
        ],
        "measured": {
            found.id: found.said or f"{'; '.join(map(_exactly, found.readings))} {units(found.id)}"
            for found in reject.found
            if found.kind == MEASUREMENT
        }
        | dict(reject.other_readings),
        "unsure": [found.id for found in reject.found if found.kind == UNSURE],
    }
    filled = {key: part for key, part in parts.items() if part}
    return yaml.safe_dump(
        about | filled, allow_unicode=True, sort_keys=False, default_flow_style=None, width=100
    )


def _exactly(value: float) -> str:
    """Return a number in as few figures as read back to the very same."""
    short = f"{value:g}"
    return short if float(short) == value else repr(value)


def _as_item(found: Looked | RuledOut | Checked | Called) -> dict[str, str]:
    if found.kind == CALLED:
        item = {CALLED: found.id}
    elif found.kind == RULED_OUT:
        item = {LOOK: found.id, "not": " ".join(found.answers)}
    else:
        item = {found.kind: found.id, "answer": found.answer}
    return item | ({"said": found.said} if found.said else {})


def _as_heard(one: Hearing) -> dict[str, Any]:
    if one.kind == CALLED:
        item: dict[str, Any] = {CALLED: one.id}
    elif one.kind == RULED_OUT:
        item = {LOOK: one.id, "not": one.answer}
    else:
        item = {one.kind: one.id, "answer": one.answer}
    return item | {"heard": one.probability, "said": one.words, "in": one.phrase}


def dumped(session: Session) -> bytes:
    """Return the content of a file of a session's reject."""
    return dump(session.reject, lambda name: session.book.measurements[name].unit).encode()


def save(session: Session, path: Path) -> None:
    """Write the reject to ``path``; Fault where the disk will not take it."""
    put(dumped(session), path)


def put(content: bytes, path: Path, *, new: bool = False) -> None:
    """Write a file so that a crash leaves either the old one or the new one.

    ``new``: raise FileExistsError where there is one. Raises Fault where the disk will not take
    it; the old file is then untouched.
    """
    try:
        write_whole(path, content, sure=True, new=new)
    except OSError as error:
        if new and isinstance(error, FileExistsError) and path.parent.is_dir():
            raise
        no_folder = isinstance(error, FileExistsError)
        why = f"{path.parent} is no folder" if no_folder else error.strerror or error
        problem = Problem(
            Place(),
            f"This reject could not be saved to {path}: {why}.",
            "Nothing is lost while the program runs; make room and answer on.",
        )
        raise Fault(problem) from None
