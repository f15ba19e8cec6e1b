"""What a meeting agreed, kept beside the sheet in a small YAML file that people may edit."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from diagnose.basics.atomic_write import write_whole
from diagnose.basics.errors import Fault, Place, Problem
from diagnose.notes.wording import one_line

FIELDS = ("text", "owner", "due", "defect", "cause", "agreed")
_NEW = "# What the quality meetings agreed. It may be edited by hand; new lines go to the end.\n"
_KEY = "actions"
EXAMPLE = "Write: - text: what is to be done, and below it owner: and due: 2026-04-03."


@dataclass(frozen=True, slots=True)
class Action:
    """One thing that somebody will do. ``due``, ``agreed``: days. ``defect``, ``cause``: ids."""

    text: str
    owner: str
    due: date | None = None
    defect: str = ""
    cause: str = ""
    agreed: date | None = None


def path_beside(sheet: Path) -> Path:
    """Return where the actions of a sheet are kept.

    >>> path_beside(Path("scrap/march.xlsx")).as_posix()
    'scrap/march-actions.yaml'
    """
    return sheet.with_name(f"{sheet.stem}-actions.yaml")


def read_actions(path: Path) -> list[Action]:
    """Return the actions kept in a file, none where there is none; raise Fault if it is wrong."""
    if not path.exists():
        return []
    try:
        content = path.read_bytes()
    except OSError as error:
        raise Fault(f"{path} cannot be read: {error.strerror or error}.") from None
    return _parsed(content, str(path))


def add_action(path: Path, action: Action) -> list[Action]:
    """Put an action at the end of a file, leaving all that stands there as it is; return all.

    The file is read anew first, so that what somebody else wrote meanwhile stays. Raises Fault,
    with the file untouched, where it cannot be read or written.
    """
    action = replace(action, text=one_line(action.text), owner=one_line(action.owner))
    known = read_actions(path)
    before = path.read_text(encoding="utf-8") if path.exists() else _NEW
    if not known:
        before = _without_empty_list(before) + f"{_KEY}:\n"
    return _kept(path, _closed(before) + _written(action, _indent(before)), [*known, action])


def strike_action(path: Path, number: int) -> list[Action]:
    """Take an action out again, by its place in the file from 0; return those that are left."""
    import yaml

    known = read_actions(path)
    if not 0 <= number < len(known):
        raise Fault(f"There is no action number {number + 1} in {path}.")
    text = path.read_text(encoding="utf-8")
    root: Any = yaml.compose(text, yaml.SafeLoader)
    items = next(value for key, value in root.value if key.value == _KEY)
    lines = text.splitlines(keepends=True)
    mark = items.value[number].start_mark
    end = _end(lines, mark.line, mark.column)
    left = [one for at, one in enumerate(known) if at != number]
    return _kept(path, "".join(lines[: mark.line] + lines[end:]), left)


def _end(lines: list[str], start: int, column: int) -> int:
    """Return where the lines of an action end: at what stands no further in than its own."""
    inside = " " * column
    ends = (at for at in range(start + 1, len(lines)) if not lines[at].startswith(inside))
    return next(ends, len(lines))


def _kept(path: Path, text: str, wanted: list[Action]) -> list[Action]:
    """Write the file, once it is sure that it reads back as what is wanted."""
    try:
        same = _parsed(text.encode(), str(path)) == wanted
    except Fault:
        same = False
    if not same:
        raise Fault(
            f"{path} is laid out in a way that cannot be added to without losing something. "
            "Nothing was written. Give each action lines of its own, as in docs/batch.md."
        )
    try:
        write_whole(path, text.encode(), sure=True)
    except OSError as error:
        reason = error.strerror or error
        raise Fault(f"The action could not be kept in {path}: {reason}.") from None
    return wanted


def _parsed(content: bytes, name: str) -> list[Action]:
    from diagnose.rulebase.yamlread import read

    document = read(content, name)
    data = document.data
    if data is None:
        return []
    if not isinstance(data, dict) or not isinstance(data.get(_KEY) or [], list):
        raise Fault(Problem(Place(name), f"There is no list under '{_KEY}:'.", EXAMPLE))
    problems: list[Problem] = []
    found = []
    for at, entry in enumerate(data.get(_KEY) or []):
        try:
            found.append(_action(entry))
        except Fault as fault:
            place = document.place_of((_KEY, at))
            problems += [Problem(place, one.what, EXAMPLE) for one in fault.problems]
    if problems:
        raise Fault(*problems)
    return found


def _action(entry: Any) -> Action:
    if not isinstance(entry, dict) or not str(entry.get("text") or "").strip():
        raise Fault("An action needs a text.")
    if strange := [str(key) for key in entry if key not in FIELDS]:
        raise Fault(f"An action has no {', '.join(strange)}; it has {', '.join(FIELDS)}.")
    texts = {key: str(entry.get(key) or "") for key in FIELDS}
    return Action(
        texts["text"],
        texts["owner"],
        _day(texts["due"]),
        texts["defect"],
        texts["cause"],
        _day(texts["agreed"]),
    )


def _day(text: str) -> date | None:
    if not text:
        return None
    from diagnose.sheets.dates import moment_of

    return moment_of(text, "date").day


def _written(action: Action, indent: str) -> str:
    import yaml

    filled = {key: getattr(action, key) for key in FIELDS if getattr(action, key)}
    texts = {key: str(value) for key, value in filled.items()}
    dumped: str = yaml.safe_dump([texts], allow_unicode=True, sort_keys=False, width=10**6)
    return "".join(f"{indent}{row}\n" for row in dumped.splitlines())


def _indent(before: str) -> str:
    """Return how far the last action stands in."""
    starts = [row for row in before.splitlines() if row.lstrip().startswith("- ")]
    return starts[-1][: len(starts[-1]) - len(starts[-1].lstrip())] if starts else ""


def _without_empty_list(text: str) -> str:
    rows = [row for row in text.splitlines() if row.split("#")[0].strip() not in _EMPTY]
    return "".join(f"{row}\n" for row in rows)


_EMPTY = {f"{_KEY}:", f"{_KEY}: []", f"{_KEY}: null"}


def _closed(text: str) -> str:
    return text if text.endswith("\n") or not text else f"{text}\n"
