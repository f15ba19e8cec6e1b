"""Read a small, safe part of YAML and remember where everything stands.

Only plain data come out: mappings with text keys, lists, text, numbers, true, false and nothing.
No object is ever built. What trips people up is left out: ``yes``, ``no``, ``on`` and ``off`` are
text, and so are dates, times, numbers with a leading nought and anything else that is not a plain
decimal number. Anchors, aliases, tags and several documents in one file are refused, and so is a
key that stands twice.

The text is read as a stream of events with an explicit stack, so that no nesting, however deep,
can exhaust the machine's own.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from diagnose.basics.errors import Fault, Place, Problem
from diagnose.rulebase.plaintext import text_of
from diagnose.rulebase.yamlwords import in_plain_words

Step = str | int
Steps = tuple[Step, ...]

LIMIT = 1_000_000
"""Bytes; a bigger file is refused unread."""

DEEPEST = 40
"""Levels of nesting; nobody writes more by hand."""

MOST = 100
"""Problems listed for one file; a reader has stopped counting by then."""

_FAST: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_PLAIN_ENOUGH = 100_000  # characters up to which the slow loader may be asked for its wording
_WHOLE = re.compile(r"[-+]?(0|[1-9][0-9]{0,15})")
_DECIMAL = re.compile(r"[-+]?(0|[1-9][0-9]*)?(\.[0-9]*)?([eE][-+]?[0-9]{1,3})?")
_WORDS: dict[str, bool | None] = {
    "": None, "~": None, "null": None, "Null": None, "NULL": None,
    "true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a key (line, column) and its value (line, column) start, counted from 1."""

    key: tuple[int, int]
    value: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Document:
    """What a file says (``data``), and where each part of it stands.

    ``written``: the text of every value that was turned into a number, true, false or nothing, so
    that ``1.10`` can still be told from ``1.1``.
    """

    name: str
    data: Any
    places: dict[Steps, Spot]
    written: dict[Steps, str]

    def place_of(self, steps: Steps = (), *, key: bool = False) -> Place:
        r"""Return where the value (or its key) stands that ``steps`` lead to.

        Where they lead nowhere, the place of the nearest thing around it is returned.

        >>> document = read("a: 1\nb: [x, y]", "b.yaml")
        >>> str(document.place_of(("b", 1))), str(document.place_of(("b",), key=True))
        ('b.yaml:2:8', 'b.yaml:2:1')
        """
        while steps and steps not in self.places:
            steps, key = steps[:-1], True
        spot = self.places[steps]
        line, column = spot.key if key else spot.value
        return Place(self.name, line, column)


def read(source: Path | str | bytes, name: str = "", limit: int = LIMIT) -> Document:
    r"""Read a file (a ``Path``) or a text, of at most ``limit`` bytes.

    ``name`` is what messages call it. Raises Fault with every duplicate key, alias, tag and the
    like at once, or with the one spot at which the text stops being YAML.

    >>> read("reject: 0412\nvented: no\nbase rate: 0.05").data
    {'reject': '0412', 'vented': 'no', 'base rate': 0.05}
    """
    name = name or (str(source) if isinstance(source, Path) else "the text")
    text = text_of(source, name, limit)
    builder = _Builder(name)
    try:
        for event in yaml.parse(text, Loader=_FAST):
            builder.take(event)
    except yaml.YAMLError as error:
        builder.problems.append(_syntax(error, text, name))
    except (ValueError, OverflowError):  # from an escape such as \\UFFFFFFFF
        what = "A letter is written here by a number that no letter has."
        builder.problems.append(Problem(Place(name), what, "Write the letter itself."))
    if builder.problems:
        raise Fault(*sorted(builder.problems))
    if builder.root is None:
        raise Fault(Problem(Place(name), "The file is empty.", "Write at least one key and value."))
    return Document(name, builder.root, builder.places, builder.written)


def _syntax(error: yaml.YAMLError, text: str, name: str) -> Problem:
    """Word a syntax error; the slow loader words and places it better, so it is asked first."""
    if len(text) <= _PLAIN_ENOUGH:
        depth = 0
        try:
            for event in yaml.parse(text, Loader=yaml.SafeLoader):
                depth += isinstance(event, yaml.CollectionStartEvent)
                depth -= isinstance(event, yaml.CollectionEndEvent)
                if depth > DEEPEST:  # from here on it would take minutes
                    break
        except yaml.YAMLError as better:
            error = better
        except (ValueError, OverflowError):
            pass  # the fast loader's wording stands
    return in_plain_words(error, name)


def _plain(text: str) -> Any:
    """Return what an unquoted word stands for.

    >>> [_plain(t) for t in ("1", "0.5", ".5", "-2e3", "007", "12:30", "2024-05-01")]
    [1, 0.5, 0.5, -2000.0, '007', '12:30', '2024-05-01']
    """
    if text in _WORDS:
        return _WORDS[text]
    if not text[-1].isdigit() and text[-1] != ".":
        return text
    if _WHOLE.fullmatch(text):
        return int(text)
    if text.strip("+-").isdigit():
        return text  # a leading nought, or too long: a serial number, not an amount
    if _DECIMAL.fullmatch(text) and any(c.isdigit() for c in text.lower().split("e")[0]):
        value = float(text)
        return value if math.isfinite(value) else text
    return text


@dataclass(slots=True)
class _Open:
    """A mapping or list that has begun and not yet ended."""

    holds: dict[str, Any] | list[Any]
    steps: Steps
    key: str | None = None
    key_at: tuple[int, int] = (0, 0)
    first: dict[str, tuple[int, int]] = field(default_factory=dict)


class _Builder:
    """Turns events into plain data, noting places and everything that is refused."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.root: Any = None
        self.places: dict[Steps, Spot] = {(): Spot((1, 1), (1, 1))}
        self.written: dict[Steps, str] = {}
        self.problems: list[Problem] = []
        self.stack: list[_Open] = []
        self.documents = 0

    def take(self, event: Any) -> None:
        """Take in one event."""
        kind = type(event)
        if kind is yaml.ScalarEvent:
            self._refuse_marks(event)
            self._scalar(event)
        elif kind is yaml.MappingStartEvent:
            self._refuse_marks(event)
            self._begin({}, event)
        elif kind is yaml.SequenceStartEvent:
            self._refuse_marks(event)
            self._begin([], event)
        elif kind in (yaml.MappingEndEvent, yaml.SequenceEndEvent):
            self.stack.pop()
        elif kind is yaml.AliasEvent:
            self._note(event, f"An alias (*{event.anchor}) is not allowed.", "Write it out.")
            self._put(None, _at(event))
        elif kind is yaml.DocumentStartEvent:
            self.documents += 1
            if self.documents > 1:
                self._stop(event, "A second document starts here (---).", "Put it in its own file.")

    def _scalar(self, event: Any) -> None:
        top = self.stack[-1] if self.stack else None
        at = _at(event)
        if top is not None and isinstance(top.holds, dict) and top.key is None:
            self._key(top, event.value, at)
            return
        value = _plain(event.value) if event.implicit[0] else event.value
        steps = self._put(value, at)
        if not isinstance(value, str) and event.value:
            self.written[steps] = event.value

    def _key(self, top: _Open, key: str, at: tuple[int, int]) -> None:
        top.key, top.key_at = key, at
        if key in top.first:
            line = top.first[key][0]
            self.problems.append(
                Problem(
                    Place(self.name, *at),
                    f"The key {key!r} stands twice; it is already on line {line}.",
                    "Keep one of the two.",
                )
            )
        top.first.setdefault(key, at)
        self._not_too_many()

    def _begin(self, holds: dict[str, Any] | list[Any], event: Any) -> None:
        if len(self.stack) >= DEEPEST:
            self._stop(event, f"This is nested more than {DEEPEST} levels deep.", "Flatten it.")
        top = self.stack[-1] if self.stack else None
        if top is not None and isinstance(top.holds, dict) and top.key is None:
            what = "A key must be a word or a phrase, not a list or a mapping."
            self._stop(event, what, "Put a value that starts with { or [ in quotes.")
        steps = self._put(holds, _at(event))
        self.stack.append(_Open(holds, steps))

    def _put(self, value: Any, at: tuple[int, int]) -> Steps:
        """Store a value where it belongs and return the steps that lead to it."""
        if not self.stack:
            self.root = value
            self.places[()] = Spot(at, at)
            return ()
        top = self.stack[-1]
        if isinstance(top.holds, list):
            steps = (*top.steps, len(top.holds))
            top.holds.append(value)
            self.places[steps] = Spot(at, at)
            return steps
        key = top.key if top.key is not None else ""
        steps = (*top.steps, key)
        top.holds[key] = value
        self.places[steps] = Spot(top.key_at, at)
        top.key = None
        return steps

    def _refuse_marks(self, event: Any) -> None:
        if event.anchor is not None:
            self._note(event, f"An anchor (&{event.anchor}) is not allowed.", "Take it away.")
        if event.tag is not None:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self._note(event, f"A tag ({tag}) is not allowed.", "Take it away, or use quotes.")

    def _note(self, event: Any, what: str, instead: str) -> None:
        self.problems.append(Problem(Place(self.name, *_at(event)), what, instead))
        self._not_too_many()

    def _not_too_many(self) -> None:
        if len(self.problems) >= MOST:
            raise Fault(*sorted(self.problems))

    def _stop(self, event: Any, what: str, instead: str) -> None:
        """Give up here: what follows cannot be made sense of."""
        self.problems.append(Problem(Place(self.name, *_at(event)), what, instead))
        raise Fault(*sorted(self.problems))


def _at(event: Any) -> tuple[int, int]:
    mark = event.start_mark
    return mark.line + 1, mark.column + 1
