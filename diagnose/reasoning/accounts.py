"""The accounts of a job as a table of numbers, each made into words when somebody looks at it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import overload

from diagnose.engine.cliquetree import Ints
from diagnose.rulebase.book import Book, Link
from diagnose.rulebase.graph import Account, live_links
from diagnose.rulebase.job import Job


def ordered_links(book: Book, job: Job, conditions: dict[str, int]) -> list[Link]:
    """Return the links that can work for a job: those to conditions, then those to defects."""
    links = [link for _, link in live_links(book, job)]
    return [link for link in links if link.to in conditions] + [
        link for link in links if link.to not in conditions
    ]


@dataclass(frozen=True)
class Accounts(Sequence[Account]):
    """Every account of a job but the last, "none of these".

    ``conditions``: their numbers. ``paths``: (accounts, longest path) numbers of conditions, and
    ``links``: of the links, in the order of ``ordered_links``; -1 beyond the end.
    """

    book: Book
    job: Job
    conditions: dict[str, int]
    paths: Ints
    links: Ints

    @cached_property
    def _names(self) -> list[str]:
        return list(self.conditions)

    @cached_property
    def _live(self) -> list[Link]:
        return ordered_links(self.book, self.job, self.conditions)

    def __len__(self) -> int:
        return len(self.paths)

    @overload
    def __getitem__(self, row: int) -> Account: ...
    @overload
    def __getitem__(self, row: slice) -> list[Account]: ...
    def __getitem__(self, row: int | slice) -> Account | list[Account]:
        """Return one account, or those of a slice."""
        if isinstance(row, slice):
            return [self[k] for k in range(len(self))[row]]
        path = tuple(self._names[number] for number in self.paths[row].tolist() if number >= 0)
        links = tuple(self._live[number] for number in self.links[row].tolist() if number >= 0)
        return Account(path[0], path, links[-1].to, links)
