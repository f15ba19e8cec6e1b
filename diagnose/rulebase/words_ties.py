"""How looks, checks and defects hang together, as far as words go."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from diagnose.reject import CALLED, CHECK, LOOK
from diagnose.rulebase.book import Book
from diagnose.rulebase.words_index import Index
from diagnose.rulebase.words_text import SUBJECT_ROOTS

MANY, SHARE = 4, 0.1
"""Looks that must build on one for it to be a first look: so many, and so much of all looks."""

MOSTLY = 0.5
"""Share of the cases of a defect from which an answer goes without saying."""


class Ties:
    """What builds on what, and which names share their words.

    ``first_looks``: those on which so many others build that they tell what the fault is; their
    answers may be said in a bare noun: *a hole*.
    """

    def __init__(self, book: Book, index: Index) -> None:
        """Find the ties of a book."""
        self._only_if = {name: look.only_if for name, look in book.looks.items() if look.only_if}
        built_on = Counter(look for fine in self._only_if.values() for look in fine)
        enough = max(MANY, SHARE * len(book.looks))
        self.first_looks = frozenset(look for look, many in built_on.items() if many >= enough)
        self._mostly = {
            (defect, look, answer)
            for defect, entry in book.defects.items()
            for look in built_on
            for answer, figure in entry.shows.get(look, {}).items()
            if book.figure(figure) >= MOSTLY
        }
        self._answers = {(LOOK, name): tuple(look.answers) for name, look in book.looks.items()}
        self._answers |= {(CHECK, name): tuple(c.answers) for name, c in book.checks.items()}
        self._proper: dict[str, frozenset[str]] = {}
        self._called: dict[str, set[str]] = {}
        for saying in index.sayings:
            if saying.kind == CALLED:
                roots = frozenset(word.root for word in saying.words)
                self._proper.setdefault(saying.id, roots)  # the name itself comes first
                for root in roots:
                    self._called.setdefault(root, set()).add(saying.id)

    def built_on(self, look: str) -> bool:
        """Tell whether some look makes sense only with some answer of this one."""
        return any(look in fine for fine in self._only_if.values())

    def builds_on_something(self, look: str) -> bool:
        """Tell whether a look makes sense only with some answer of another."""
        return look in self._only_if

    def possible(self, kind: str, name: str, known: Mapping[str, str]) -> bool:
        """Tell whether a look makes sense with the looks known so far."""
        only_if = self._only_if.get(name, {}) if kind == LOOK else {}
        return all(look not in known or known[look] in fine for look, fine in only_if.items())

    def go_together(self, kind: str, name: str, look: str, answer: str) -> bool:
        """Tell whether an answer goes without saying where another thing is said.

        A wall can only be smooth where there is a hole; what is called a blow is mostly a hole.
        """
        if kind == CALLED:
            return (name, look, answer) in self._mostly
        return kind == LOOK and answer in self._only_if.get(name, {}).get(look, ())

    def other_answer(self, kind: str, name: str, answer: str) -> str | None:
        """Return the other of two answers; None where there are more."""
        answers = self._answers.get((kind, name), ())
        return (
            next((other for other in answers if other != answer), None)
            if len(answers) == 2
            else None
        )

    def namesakes(self, defect: str, roots: frozenset[str], before: frozenset[str]) -> list[str]:
        """Return the other defects that may be meant by part of a name.

        ``roots``: the words said; *scab* alone may be either scab. ``before``: the word in front
        of a single one; *gas porosity* is not what the book calls porosity.
        """
        telling = roots - SUBJECT_ROOTS
        alike: set[str] = set()
        if telling and roots != self._proper[defect]:
            alike = {name for name, proper in self._proper.items() if telling <= proper}
        for root in before - SUBJECT_ROOTS:
            alike |= self._called.get(root, set())
        return sorted(alike - {defect})
