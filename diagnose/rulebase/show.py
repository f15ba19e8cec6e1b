"""Show one entry of the book in plain words, with everything that is linked to it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from diagnose.rulebase.book import Book, spaced
from diagnose.rulebase.find import SINGULAR
from diagnose.rulebase.panels import in_letters, panels
from diagnose.rulebase.references import references

_BACKWARDS = {
    ("conditions", "to"): "brought about by",
    ("conditions", "needs"): "needed for a link of",
    ("conditions", "shows"): "told by",
    ("conditions", "area"): "conditions",
    ("defects", "shows"): "told by",
    ("defects", "look alikes"): "often taken for it",
    ("looks", "only if"): "opens the look",
    ("looks", "not if"): "closes the look",
    ("checks", "reveals"): "revealed by the check",
    ("checks", "caution"): "stands beside",
    ("measurements", "same sight as"): "told as well by",
    ("looks", "same sight as"): "told as well by",
    ("measurements", "low speaks for"): "a low reading speaks for it",
    ("measurements", "high speaks for"): "a high reading speaks for it",
    ("measurements", "caution"): "stands beside",
    ("actions", "cures"): "cured by",
    ("actions", "invites"): "may follow, where it is overdone, from the action",
    ("pairs", "pair"): "told apart in the pair",
    ("pairs", "by"): "tells apart the pair",
    ("actions", "caution"): "stands beside",
    ("cautions", "areas"): "cautions",
}
"""What to call a reference to an entry, seen from that entry."""

_KEYS_ARE_IDS = ("shows", "only if", "not if", "reveals", "low speaks for", "high speaks for", "by")
_VALUES_ARE_IDS = ("area", "areas", "to", "needs", "look alikes", "pair", "cures", "invites")


def plain_data(value: Any) -> Any:
    """Return an entry as plain data, with keys as in YAML; what is empty is left out."""
    if is_dataclass(value):
        pairs = ((spaced(f.name), plain_data(getattr(value, f.name))) for f in fields(value))
        return {key: part for key, part in pairs if part not in ("", None, [], {})}
    if isinstance(value, dict):
        return {key: plain_data(part) for key, part in value.items()}
    if isinstance(value, tuple):
        return [plain_data(part) for part in value]
    return value


def linked(book: Book, section: str, name: str) -> dict[str, list[str]]:
    """Return how other entries name this one -> their ids."""
    found: dict[str, list[str]] = {}
    for reference in references(book):
        if reference.name != name or section not in reference.sections:
            continue
        home, *rest = reference.steps
        relation = _BACKWARDS.get((str(home), _relation(rest)), "cited by")
        entries = found.setdefault(relation, [])
        owner = str(rest[0]) if home != "scale" else "scale"
        if owner not in entries:
            entries.append(owner)
    return found


def _relation(steps: list[str | int]) -> str:
    """Return the last key on the way that is neither a number nor an id.

    >>> _relation(["sand-too-wet", "leads to", 0, "needs", 1])
    'needs'
    """
    known = {relation for _, relation in _BACKWARDS} | {"source"}
    return next((str(step) for step in reversed(steps) if step in known), "")


def entry_json(book: Book, section: str, name: str) -> dict[str, Any]:
    """Return an entry for machines: what it is, what it says, what is linked to it."""
    return {
        "id": name,
        "kind": SINGULAR[section],
        "says": plain_data(getattr(book, section)[name]),
        "linked": linked(book, section, name),
    }


def entry_lines(book: Book, section: str, name: str, width: int = 80) -> Iterator[str]:
    """Yield an entry as lines of at most ``width`` characters."""
    data = plain_data(getattr(book, section)[name])
    title = _title(book, name)
    yield from _wrapped(f"{title} ({SINGULAR[section]} {name})", 0, width)
    if isinstance(data, dict):
        for shown_otherwise in ("name", "drawing", "drawings"):
            data.pop(shown_otherwise, None)
    yield from _lines(book, data, 2, width)
    for relation, names in linked(book, section, name).items():
        titles = sorted({_title(book, other) for other in names})
        yield from _wrapped(f"{relation}: {'; '.join(titles)}", 2, width)
    yield from in_letters(panels(book, name), width)


def _title(book: Book, name: str) -> str:
    """Return the name that goes with an id, or the id where it has none."""
    for section in ("conditions", "defects", "looks", "checks", "measurements", "actions", "areas"):
        entry = getattr(book, section).get(name)
        if entry is not None:
            return str(entry.name or name)
    return name


def _lines(book: Book, data: Any, indent: int, width: int, *, ids: bool = False) -> Iterator[str]:
    """Yield plain data as lines; ``ids``: the keys are ids, to be shown by their titles."""
    if isinstance(data, dict):
        for key, part in data.items():
            yield from _pair(book, key, _title(book, key) if ids else key, part, indent, width)
    elif isinstance(data, list):
        for part in data:
            yield from _item(book, part, indent, width)
    else:
        yield from _wrapped(_said(book, data), indent, width)


def _pair(book: Book, key: str, label: str, part: Any, indent: int, width: int) -> Iterator[str]:
    nested = isinstance(part, dict) or (
        isinstance(part, list) and any(isinstance(one, dict) for one in part)
    )
    if nested:
        yield from _wrapped(f"{label}:", indent, width)
        yield from _lines(book, part, indent + 2, width, ids=key in _KEYS_ARE_IDS)
        return
    parts = part if isinstance(part, list) else [part]
    titled = key in _VALUES_ARE_IDS
    said = "; ".join(
        _title(book, one) if titled and isinstance(one, str) else _said(book, one) for one in parts
    )
    yield from _wrapped(f"{label}: {said}", indent, width)


def _item(book: Book, part: Any, indent: int, width: int) -> Iterator[str]:
    lines = list(_lines(book, part, 0, width - indent - 2))
    yield " " * indent + "- " + lines[0]
    yield from (" " * (indent + 2) + line for line in lines[1:])


def _said(book: Book, value: Any) -> str:
    """Return a value as words: a word of the scale with the number behind it."""
    if value is None:
        return "open"
    for words in (book.scale.shares, book.scale.base_rates):
        if value in words:
            return f"{value} ({words[value]:g})"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _wrapped(text: str, indent: int, width: int) -> list[str]:
    return textwrap.wrap(
        text,
        width,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + 4),
        break_on_hyphens=False,
    )
