"""The rule base with all that was made ready from it, shared by every session of a run."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Any

from diagnose.reasoning.setup import Desk, section_limits, set_up
from diagnose.rulebase.book import Book
from diagnose.rulebase.job import Job

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from diagnose.basics.arrayfile import Array
    from diagnose.words.reader import Reader

DESKS = 4
"""Jobs for which the rule base stays ready; each takes some 30 MB."""


class Library:
    """One book, the desks that were set up last, and the reader of words."""

    def __init__(self, book: Book, key: str = "") -> None:
        """``key``: of the book, in the cache; without one nothing is kept between runs."""
        self.book = book
        self._key = key
        self._desks: dict[Job, Desk] = {}

    def desk(self, job: Job) -> Desk:
        """Return the rule base made ready for a job; jobs under which the same holds share one."""
        alike = job.alike(self._limits)
        if alike not in self._desks:
            while len(self._desks) >= DESKS:
                del self._desks[next(iter(self._desks))]
            self._desks[alike] = set_up(self.book, alike, self.keep)
        self._desks[alike] = desk = self._desks.pop(alike)  # the last used comes last
        return desk

    @cached_property
    def _limits(self) -> list[float]:
        return section_limits(self.book)

    @cached_property
    def reader(self) -> Reader:
        """What people say and what it means; made when it is first needed."""
        from diagnose.words.reader import Reader

        return Reader(self.book, self.keep)

    def keep(
        self,
        name: str,
        build: Callable[[], Mapping[str, Array]],
        make: Callable[[Mapping[str, Array]], Any],
    ) -> Any:
        """Return what is made of the arrays kept for this book under a name, or built and kept."""
        from diagnose.rulebase.cache import cached_arrays

        if not self._key:
            return make(build())
        return cached_arrays(self._key, name, build, make)
