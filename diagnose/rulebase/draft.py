"""The rule base as it stands in its files: what could be read, where it stands, what was wrong."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from diagnose.basics.errors import Place, Problem
from diagnose.rulebase.book import Book, Figure
from diagnose.rulebase.yamlread import Document, Steps

ENTRIES = (
    "conditions",
    "defects",
    "looks",
    "checks",
    "measurements",
    "actions",
    "cautions",
)
"""The sections whose ids must be unlike each other, because a user may name any of them."""


@dataclass(slots=True)
class Draft:
    """A book with the places of its entries, for the checks.

    ``book`` holds the entries that could be read; ``faulty`` the (section, id) of those that
    could not, so that nothing that refers to them is called unknown. ``files``: the name by which
    each file is shown to the user -> its path. ``documents``: those that are YAML.
    """

    folder: Path
    files: dict[str, Path]
    book: Book
    documents: list[Document]
    homes: dict[tuple[str, str], Document] = field(default_factory=dict)
    faulty: set[tuple[str, str]] = field(default_factory=set)
    problems: list[Problem] = field(default_factory=list)
    has_scale: bool = True

    def place(self, section: str, *steps: str | int, key: bool = False) -> Place:
        """Return where an entry, or the part of it that ``steps`` lead to, is written."""
        document = self._home(section, steps)
        if document is None:
            return Place(str(self.folder))
        return document.place_of((section, *steps), key=key)

    def _home(self, section: str, steps: Steps) -> Document | None:
        name = "" if section == "scale" else str(steps[0]) if steps else ""
        return self.homes.get((section, name))

    def ids(self, *sections: str) -> set[str]:
        """Return the ids of the sections, those of faulty entries with them."""
        found = {name for part in sections for name in getattr(self.book, part)}
        return found | {name for part, name in self.faulty if part in sections}

    def problem(
        self,
        steps: Iterable[str | int],
        what: str,
        instead: str = "",
        *,
        key: bool = False,
    ) -> Problem:
        """Return a Problem at the place that ``steps`` (section first) lead to."""
        section, *rest = steps
        return Problem(self.place(str(section), *rest, key=key), what, instead)

    def figure(self, value: Figure, *, base_rate: bool = False) -> float | None:
        """Return a figure as a number, or None where its word is not on the scale."""
        try:
            return self.book.figure(value, base_rate=base_rate)
        except KeyError:
            return None
