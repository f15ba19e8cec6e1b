"""Read the files of the rule base: every one of them, every fault, one draft."""

from __future__ import annotations

import os
import re
from dataclasses import fields
from pathlib import Path
from typing import Any

from diagnose.basics.errors import Fault, Place, Problem
from diagnose.basics.nearest import did_you_mean
from diagnose.rulebase.book import Book, Scale
from diagnose.rulebase.draft import ENTRIES, Draft
from diagnose.rulebase.folder import knowledge_folder, rule_files
from diagnose.rulebase.yamlread import Document, read

_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_RESERVED = "none-of-these"
_PLAIN_IDS = (*ENTRIES, "areas", "sources")


def draft(folder: Path | str | None = None) -> Draft:
    """Read a folder as far as it can be read; what could not is in the draft's problems."""
    where = knowledge_folder(folder)
    made = Draft(
        folder=where,
        files={_shown(path): path for path in rule_files(where)},
        book=Book(scale=_no_scale()),
        documents=[],
    )
    for name, path in made.files.items():
        try:
            made.documents.append(read(path, name))
        except Fault as fault:
            made.problems.extend(fault.problems)
    _put_together(made)
    return made


def _no_scale() -> Scale:
    """Return a scale without words, to put in the place of one that could not be read."""
    empty: dict[Any, Any] = {"dict[str, float]": {}, "tuple[str, ...]": ()}
    return Scale(**{field.name: empty.get(field.type, 0.0) for field in fields(Scale)})


def _shown(path: Path) -> str:
    """Return a file's name as the user would type it here."""
    shorter = os.path.relpath(path)
    return str(path) if shorter.startswith("..") else shorter


def _put_together(made: Draft) -> None:
    """Make the draft's book out of its documents."""
    from diagnose.rulebase.validate import SECTIONS

    sections: dict[str, dict[str, Any]] = {name: {} for name in SECTIONS}
    for document in made.documents:
        if not isinstance(document.data, dict):
            made.problems.append(
                Problem(
                    document.place_of(),
                    "A rule file must be a mapping of sections.",
                    f"Begin with one of: {', '.join(SECTIONS)}.",
                )
            )
            continue
        for section, entries in document.data.items():
            if section not in sections:
                way_out = did_you_mean(section, SECTIONS, "section")
                place = document.place_of((section,), key=True)
                made.problems.append(Problem(place, f"No section is called {section!r}.", way_out))
            elif section == "scale":
                _take_scale(made, document, entries, sections)
            else:
                _take_section(made, document, section, entries, sections[section])
    scale = sections.pop("scale").get("", None)
    made.has_scale = scale is not None
    if scale is None and ("scale", "") not in made.homes:
        what = "No file has a 'scale' section."
        made.problems.append(Problem(Place(str(made.folder)), what, "Add scale.yaml."))
    made.book = Book(scale=scale or made.book.scale, **sections)


def _take_scale(
    made: Draft, document: Document, data: Any, sections: dict[str, dict[str, Any]]
) -> None:
    if (home := made.homes.get(("scale", ""))) is not None:
        place = document.place_of(("scale",), key=True)
        what = f"There is a second scale; the first is in {home.name}."
        made.problems.append(Problem(place, what, "Keep one of the two."))
        return
    made.homes["scale", ""] = document
    scale = _entry(made, document, "scale", (), data)
    if scale is not None:
        sections["scale"][""] = scale


def _take_section(
    made: Draft, document: Document, section: str, entries: Any, found: dict[str, Any]
) -> None:
    """Take the entries of one section of one file into ``found``."""
    if not isinstance(entries, dict):
        place = document.place_of((section,), key=True)
        what = f"{section!r} must be a mapping from ids to entries."
        made.problems.append(Problem(place, what, "Write 'id:' lines under it, or delete it."))
        return
    for name, data in entries.items():
        place = document.place_of((section, name), key=True)
        if trouble := _trouble_with_id(made, section, name):
            made.problems.append(Problem(place, *trouble))
        entry = _entry(made, document, section, (name,), data)
        if (section, name) in made.homes:
            continue
        made.homes[section, name] = document
        if entry is None:
            made.faulty.add((section, name))
        else:
            found[name] = entry


def _trouble_with_id(made: Draft, section: str, name: str) -> tuple[str, str] | None:
    """Return what is wrong with an id, and the way out; None where nothing is."""
    rivals = ENTRIES if section in ENTRIES else (section,)
    for rival in rivals:
        if (rival, name) in made.homes:
            where = made.place(rival, name, key=True)
            return f"The id {name!r} is taken: {where}.", "Give one of the two another id."
    if name == _RESERVED:
        return f"The id {name!r} belongs to the program.", "Choose another one."
    if section in _PLAIN_IDS and not _ID.fullmatch(name):
        better = "-".join(re.findall(r"[a-z0-9]+", name.lower()))
        way_out = f"Write {better!r}." if better else "Write lower-case words joined by hyphens."
        return f"{name!r} is no id.", way_out
    return None


def _entry(made: Draft, document: Document, section: str, steps: tuple[str, ...], data: Any) -> Any:
    """Return the entry that ``data`` describe, or None after noting what does not fit."""
    from diagnose.rulebase.validate import validate

    entry, misfits = validate(section, data)
    for misfit in misfits:
        place = document.place_of((section, *steps, *misfit.steps), key=misfit.key)
        made.problems.append(Problem(place, misfit.what, misfit.instead))
    return entry
