"""Work is described in words that call for a caution, and that caution does not stand beside it.

Passes: an action that says "brush the vents with solvent" with ``caution: [solvent-and-paint]``,
where that caution has ``words: [solvent, solvents]``.
Fails:  the same action with ``caution: [grinding]`` or none. The names of what an action cures and
of who does it count among its words. Only whole words count, with capitals or without.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from diagnose.basics.errors import Problem
from diagnose.rulebase.book import Action, Book
from diagnose.rulebase.draft import Draft


def check(draft: Draft) -> Iterator[Problem]:
    """Yield a problem for every caution that words call for and that is left out."""
    called_for = {
        caution: re.compile(rf"\b(?:{'|'.join(map(re.escape, entry.words))})\b", re.IGNORECASE)
        for caution, entry in draft.book.cautions.items()
        if entry.words
    }
    for name, action in draft.book.actions.items():
        text = _said(draft.book, action)
        for caution, words in called_for.items():
            found = words.search(text)
            if found and caution not in action.caution:
                what = f"{name!r} says {found.group()!r} without the caution {caution!r}."
                instead = f"Add {caution!r} to its 'caution'."
                yield draft.problem(("actions", name), what, instead, key=True)


def _said(book: Book, action: Action) -> str:
    """Return all the words of an action, what it cures and who does it with them."""
    cured = [book.conditions[name].name for name in action.cures if name in book.conditions]
    told = (action.name, action.what, action.how_much, action.who, action.watch, action.verify)
    return " / ".join([*told, *cured])
