"""The faults of one file of a person, collected while it is read, so that all are told at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from diagnose.basics.errors import Fault, Problem
from diagnose.rulebase.yamlread import Document, Steps

T = TypeVar("T")


@dataclass(slots=True)
class FaultsOf:
    """What is wrong with a document so far."""

    document: Document
    problems: list[Problem] = field(default_factory=list, kw_only=True)

    def fault(self, steps: Steps, what: str, instead: str = "", *, key: bool = False) -> None:
        """Note a fault at its place; ``key``: at the heading and not at what stands under it."""
        self.problems.append(Problem(self.document.place_of(steps, key=key), what, instead))

    def tried(self, steps: Steps, make: Callable[[], T], *, key: bool = False) -> T | None:
        """Return what is made; a fault in it is noted at its place in the file."""
        try:
            return make()
        except Fault as fault:
            for problem in fault.problems:
                self.fault(steps, problem.what, problem.instead, key=key)
            return None

    def raise_any(self) -> None:
        """Raise Fault with everything that is wrong, sorted by place, if anything is."""
        if self.problems:
            raise Fault(*sorted(self.problems))
