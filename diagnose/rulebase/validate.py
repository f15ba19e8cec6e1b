"""Turn plain data into entries of the book, and say in plain words what does not fit.

The validator (pydantic) is imported here only, and only while the book is not yet cached.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from typing import Any, get_args, get_type_hints

from pydantic import TypeAdapter, ValidationError

from diagnose.basics.nearest import did_you_mean
from diagnose.rulebase.book import Book, Scale, spaced
from diagnose.rulebase.yamlread import Steps

SECTIONS = tuple(field.name for field in fields(Book))


@dataclass(frozen=True, slots=True)
class Misfit:
    """Something in an entry that does not fit; ``key``: the key is wrong, not the value."""

    steps: Steps
    what: str
    instead: str = ""
    key: bool = False


def kind_of_entry(section: str) -> Any:
    """Return the type of one entry of a section; ``scale`` is one entry as a whole."""
    hint = get_type_hints(Book)[section]
    return hint if hint is Scale else get_args(hint)[1]


@cache
def _adapter(section: str) -> TypeAdapter[Any]:
    return TypeAdapter(kind_of_entry(section))


def validate(section: str, data: Any) -> tuple[Any, list[Misfit]]:
    """Return the entry that ``data`` describe, or None and everything that does not fit.

    >>> validate("cautions", {"say": "Mind your feet.", "sauce": ["x"]})[1][0].instead
    "Did you mean 'source'?"
    """
    # As JSON, because the strict reading of it takes lists for tuples but true for no number.
    try:
        return _adapter(section).validate_json(json.dumps(data), strict=True), []
    except ValidationError as error:
        details = error.errors(include_url=False, include_input=False)
    unknown = [d for d in details if d["type"] == "unexpected_keyword_argument"]
    rest = [d for d in details if d["type"] != "unexpected_keyword_argument"]
    misfits = [_unknown_key(section, detail["loc"]) for detail in unknown]
    meant = {(misfit.steps[:-1], misfit.instead) for misfit in misfits}
    for detail in rest:
        misfit = _misfit(detail["loc"], detail["type"], detail["msg"], data)
        meant_key = f"Did you mean {detail['loc'][-1]!r}?" if detail["loc"] else ""
        if misfit not in misfits and (misfit.steps, meant_key) not in meant:
            misfits.append(misfit)
    return None, misfits


def _unknown_key(section: str, loc: Steps) -> Misfit:
    kind = _kind_at(kind_of_entry(section), loc[:-1])
    known = [spaced(field.name) for field in fields(kind)] if is_dataclass(kind) else []
    way_out = did_you_mean(str(loc[-1]), known, "key")
    return Misfit(loc, f"The key {loc[-1]!r} is not known here.", way_out, key=True)


def _kind_at(kind: Any, steps: Steps) -> Any:
    """Follow steps through the types of an entry.

    >>> _kind_at(kind_of_entry("conditions"), ("leads to", 0, "scope")).__name__
    'Scope'
    """
    for step in steps:
        if is_dataclass(kind) and isinstance(kind, type):
            hints = {spaced(name): hint for name, hint in get_type_hints(kind).items()}
            kind = hints[str(step)]
        else:
            kind = get_args(kind)[0 if isinstance(step, int) else 1]
        choices = [choice for choice in get_args(kind) if is_dataclass(choice)]
        if type(None) in get_args(kind) and choices:
            kind = choices[0]
    return kind


def _follow(loc: Steps, data: Any) -> tuple[Steps, Any]:
    """Follow a validator's path through the data, leaving out its own marks.

    >>> _follow(("leads to", 0, "strength", "str"), {"leads to": [{"strength": None}]})
    (('leads to', 0, 'strength'), None)
    """
    steps: list[str | int] = []
    for step in loc:
        known = range(len(data)) if isinstance(data, list) else data
        if isinstance(known, dict | range) and step in known:
            data = data[step]
            steps.append(step)
    return tuple(steps), data


_WANTED = {
    "string_type": ("text", "Put it in quotes if it is meant as text."),
    "float_type": ("a number", "Write a number with a point, without a unit."),
    "tuple_type": ("a list", "Put it in [ ]."),
    "bool_type": ("true or false", "Write true or false."),
    "dict_type": ("a mapping", "Write 'key: value' lines under it."),
    "dataclass_type": ("a mapping", "Write 'key: value' lines under it."),
    "too_long": ("a list of two", "Write [from, to]."),
    "too_short": ("a list of two", "Write [from, to]."),
    "figure": ("a figure", "Write a number from 0 to 1 or a word of the scale."),
}


def _misfit(loc: Steps, kind: str, said: str, data: Any) -> Misfit:
    """Word one complaint of the validator that is not about an unknown key."""
    steps, value = _follow(loc, data)
    if kind == "missing" and isinstance(value, dict):
        return Misfit(steps, f"The key {loc[-1]!r} is missing.", "Add it.", key=True)
    if kind == "missing":
        kind = "too_short"
    if loc[len(steps) :] in (("str",), ("float",)):
        kind = "figure"
    subject = _spoken(steps)
    if kind not in _WANTED:
        return Misfit(steps, f"{subject} does not fit: {said}.")
    wanted, instead = _WANTED[kind]
    if value is None:
        return Misfit(
            steps, f"{subject} is empty; it must be {wanted}.", "Fill it in, or delete the key."
        )
    return Misfit(steps, f"{subject} must be {wanted}, not {_called(value)}.", instead)


def _spoken(steps: Steps) -> str:
    """Return the last step as the subject of a sentence.

    >>> _spoken(()), _spoken(("scope", "section")), _spoken(("also", 0))
    ('This entry', "'section'", "Number 1 of 'also'")
    """
    if not steps:
        return "This entry"
    last = steps[-1]
    if isinstance(last, int):
        return f"Number {last + 1} of {str(steps[-2])!r}" if len(steps) > 1 else f"Item {last + 1}"
    return repr(last)


def _called(value: Any) -> str:
    if isinstance(value, list):
        return f"a list of {len(value)}"
    names = {dict: "a mapping", str: "text", bool: "true or false"}
    return names.get(type(value), "a number")
