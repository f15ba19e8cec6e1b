"""Bring together what two sessions entered into one reject since both of them saw the same."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from diagnose.reject.found import CALLED, Found
from diagnose.reject.reject import Reject

T = TypeVar("T", bound=Hashable)


def together(base: Reject, mine: Reject, theirs: Reject) -> tuple[Reject, tuple[str, ...]]:
    """Return a reject with all that was entered on either side, and what clashes.

    ``base``: what both sides began with. What only one side changed or took back holds. What both
    changed, and not to the same, clashes: it is named by its entry or field, and mine stands.
    """
    if base in (mine, theirs):
        return (theirs if mine == base else mine), ()
    clashes: list[str] = []
    sides = (base, mine, theirs)
    found = _by_key([{_entry(one): one for one in side.found} for side in sides], clashes)
    other = _by_key([dict(side.other_readings) for side in sides], clashes)
    lists = {
        "found": tuple(found.values()),
        "other_readings": tuple(other.items()),
        "heard": _by_being_there(base.heard, mine.heard, theirs.heard),
        "not_understood": _by_being_there(
            base.not_understood, mine.not_understood, theirs.not_understood
        ),
    }
    return replace(_by_field(sides, clashes, {*lists}), **lists), tuple(clashes)


def _entry(found: Found) -> str:
    """Return what a finding is about; all names of faults answer one question."""
    return CALLED if found.kind == CALLED else found.id


def _by_field(sides: Sequence[Any], clashes: list[str], but: set[str]) -> Any:
    """Return a dataclass of which every field is what one side changed it to."""
    changed: dict[str, Any] = {}
    for field in fields(sides[0]):
        if field.name in but:
            continue
        parts = [getattr(side, field.name) for side in sides]
        if all(is_dataclass(part) for part in parts):
            changed[field.name] = _by_field(parts, clashes, set())
        else:
            changed[field.name] = _changed(parts, field.name, clashes)
    return replace(sides[1], **changed)


def _changed(sides: Sequence[T], name: str, clashes: list[str]) -> T:
    base, mine, theirs = sides
    if mine == base:
        return theirs
    if theirs not in (base, mine):
        clashes.append(name)
    return mine


def _by_key(sides: Sequence[dict[str, T]], clashes: list[str]) -> dict[str, T]:
    """Return entry -> what one side made of it; in their order, then what is new in mine."""
    _, mine, theirs = sides
    made = {
        key: _changed([side.get(key) for side in sides], key, clashes)
        for key in dict.fromkeys((*theirs, *mine))
    }
    return {key: one for key, one in made.items() if one is not None}


def _by_being_there(base: Iterable[T], mine: Iterable[T], theirs: Iterable[T]) -> tuple[T, ...]:
    """Return what is on both sides, or new on one; what one side struck out is gone."""
    before, here, there = set(base), set(mine), set(theirs)
    kept = (here & there) | (here - before) | (there - before)
    return tuple(one for one in dict.fromkeys((*theirs, *mine)) if one in kept)
